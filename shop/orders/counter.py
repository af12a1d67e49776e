"""What the counter's page shows."""

import uuid
from dataclasses import dataclass
from itertools import groupby

from shop.lib.dates import today
from shop.orders import promising
from shop.orders.alike import alike
from shop.orders.forms.booking import BookInForm
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
    """The workshop's places in the order in which it names them. One query."""
    names = [name.strip() for name in workshop.rack_slots.splitlines() if name.strip()]
    taken = dict(WorkOrder.objects.open().exclude(rack_slot="").values_list("rack_slot", "number")) if names else {}
    return [Slot(name, taken.get(name, "")) for name in names]


def price_groups():
    """[(kind, its items)] of what the price list offers, work first."""
    items = PriceItem.objects.offered().as_listed()
    return [(ItemKind(kind).label, list(group)) for kind, group in groupby(items, key=lambda one: one.kind)]


def waiting_at_the_counter():
    """What somebody may come in and ask for: ready to be collected, and promised for today. Two queries."""
    orders = WorkOrder.objects.with_parties()
    return {
        "ready": orders.ready()[:MOST_SHOWN],
        "due": orders.promised_between(today(), today())[:MOST_SHOWN],
    }


def start(workshop, *, customer=None, instrument=None, text=""):
    """An empty form for somebody known or new; what was typed into the search box is not typed twice."""
    carried = promising.Carried.here(hours_a_day=workshop.bench_hours_a_day)
    initial = {"who": guess(text), "job": {"promised_on": carried.proposal(0).day}}
    return BookInForm(workshop, customer=customer, instrument=instrument, initial=initial, carried=carried)


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
    workshop = form.workshop
    return {
        "form": form,
        "customer": form.customer,
        "instrument": form.instrument,
        "scope": scope_of(form),
        "price_groups": price_groups(),
        "picked": picked(form),
        "rack": rack(workshop),
        "usually_with_it": USUALLY_WITH_IT,
        "reckoned": reckoned(form),
        "draft_photos": draft_photos(form.job["draft_key"].value()) if form.is_bound else (),
        "alike": typed_before(form) if form.is_bound else None,
    }


def scope_of(form):
    """The name under which the browser keeps this draft apart from others."""
    if form.instrument:
        return f"instrument-{form.instrument.pk}"
    return f"customer-{form.customer.pk}" if form.customer else "new"


def picked(form):
    """The items of the price list that are ticked, as the strings that the page compares."""
    return {str(one) for one in form.job["items"].value() or ()}


def draft_photos(draft_key):
    """The photographs kept for the draft; none for a key that is none."""
    try:
        return list(Photo.objects.filter(order=None, draft_key=uuid.UUID(str(draft_key))))
    except ValueError:
        return []


def typed_before(form):
    """What is on file like what was typed into a form that was not taken."""
    who, what = form.who, form.what
    return alike(
        phone=who["phone"].value() or "" if who else "",
        email=who["email"].value() or "" if who else "",
        serial=what["serial"].value() or "" if what else "",
    )
