"""What the counter's page shows."""

import uuid
from dataclasses import dataclass
from itertools import groupby

from django.urls import reverse

from shop.lib.dates import today
from shop.orders import promising
from shop.orders.alike import alike
from shop.orders.forms.booking import BookInForm
from shop.orders.forms.pieces import Piece
from shop.orders.models import Photo, WorkOrder
from shop.orders.reckoning import reckoned
from shop.stock.models import ItemKind, PriceItem

MOST_SHOWN = 6
USUALLY_WITH_IT = ("hard case", "soft case", "strap", "lever", "capo", "lead", "spare parts in a bag", "no case")


@dataclass(frozen=True)
class Slot:
    """A place on the rack, and the order that is there."""

    name: str
    number: str

    @property
    def is_free(self):
        return not self.number


def rack(workshop):
    """The places of the workshop, or of a branch of it, in the order in which it names them. One query."""
    names = [name.strip() for name in workshop.rack_slots.splitlines() if name.strip()]
    racked = WorkOrder.objects.at(workshop.branch).open().exclude(rack_slot="").values_list("rack_slot", "number")
    taken = dict(racked) if names else {}
    return [Slot(name, taken.get(name, "")) for name in names]


def price_groups():
    """[(kind, its items)] of what the price list offers, work first."""
    items = PriceItem.objects.offered().as_listed()
    return [(ItemKind(kind).label, list(group)) for kind, group in groupby(items, key=lambda one: one.kind)]


def waiting_at_the_counter(branch=None):
    """What somebody may come in and ask for: ready to be collected, and promised for today. Two queries."""
    orders = WorkOrder.objects.at(branch).with_parties()
    return {
        "ready": orders.ready()[:MOST_SHOWN],
        "due": orders.promised_between(today(), today())[:MOST_SHOWN],
    }


def start(workshop, *, customer=None, instrument=None, text=""):
    """An empty form for somebody known or new; what was typed into the search box is not typed twice."""
    carried = promising.Carried.here(workshop)
    initial = {"who": guess(text), "job": {"promised_on": carried.proposal(0).day}}
    return BookInForm(workshop, customer=customer, instruments={1: instrument}, initial=initial, carried=carried)


def one_more(workshop, place, *, instrument=None):
    """The empty forms of another instrument in the same visit. Its promise follows once its work is known."""
    return Piece(place, workshop, instrument=instrument)


def guess(text):
    """{field: text} of a new customer from what was looked for in vain."""
    text = " ".join(text.split())[:100]
    digits = sum(letter.isdigit() for letter in text)
    if not text:
        return {}
    if "@" in text:
        return {"email": text}
    return {"phone": text} if digits >= 5 else {"name": text}


def shown_with(form):
    """What the page needs beside `form`."""
    return piece_with(form.workshop) | {
        "form": form,
        "customer": form.customer,
        "pieces": [(piece, here_already(piece), draft_photos_of(form, piece)) for piece in form.pieces],
        "scope": scope_of(form),
        "address": address_of(form),
        "reckoned": reckoned(form),
        "alike": typed_before(form) if form.is_bound else None,
    }


def piece_with(workshop):
    """What each instrument's part of the page needs beside its forms."""
    return {
        "price_groups": price_groups(),
        "rack": rack(workshop),
        "usually_with_it": USUALLY_WITH_IT,
    }


def here_already(piece):
    """The orders with which a known instrument is in the workshop already."""
    if not piece.instrument:
        return []
    return list(piece.instrument.orders.at(piece.workshop.branch).open()[:MOST_SHOWN])


def draft_photos_of(form, piece):
    if not form.is_bound:
        return []
    return draft_photos(piece.job["draft_key"].value(), of_marks=[row["photo"].value() for row in piece.marks])


def scope_of(form):
    """The name under which the browser keeps this draft apart from others."""
    if form.first.instrument:
        return f"instrument-{form.first.instrument.pk}"
    return f"customer-{form.customer.pk}" if form.customer else "new"


def address_of(form):
    """Where the form is sent: opened by itself, as after a reload, it leads back to whom it was for."""
    start = reverse("book-in")
    if form.first.instrument:
        return f"{start}?instrument={form.first.instrument.pk}"
    return f"{start}?customer={form.customer.pk}" if form.customer else start


def draft_photos(draft_key, *, of_marks=()):
    """The photographs kept for the draft but for those with the upload keys `of_marks`; none for a key that is none."""
    try:
        kept = Photo.objects.filter(order=None, draft_key=uuid.UUID(str(draft_key)))
    except ValueError:
        return []
    named = {str(key) for key in of_marks if key}
    return [one for one in kept if str(one.upload_key) not in named]


def typed_before(form):
    """What is on file like what was typed into a form that was not taken."""
    who, what = form.who, form.first.what
    return alike(
        phone=who["phone"].value() or "" if who else "",
        email=who["email"].value() or "" if who else "",
        serial=what["serial"].value() or "" if what else "",
    )
