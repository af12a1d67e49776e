"""A person is taken out of the records, but for what must stay.

Issued invoices, credit notes and payments stay as they were issued: tax law asks for them in most countries. Orders and
readings stay, since the workshop answers for its work, but say nothing of the person any more. Everything else goes.
What law asks for differs from place to place; the page says so and sends the owner to a licensed adviser.
"""

import re
from dataclasses import dataclass

from django.core.files.storage import default_storage
from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from shop.billing.models import Invoice
from shop.handover.models import MailState, OutgoingMail, Paper, PaperKind
from shop.instruments.models import Instrument, InstrumentMerge
from shop.lib import local_outbox
from shop.orders.models import Answer, ConditionMark, CustomerLink, Event, Photo, WorkOrder
from shop.orders.states import OPEN
from shop.people.models import Customer, CustomerMerge
from shop.worksheets.models import Taste

KEPT_PAPERS = (PaperKind.INVOICE, PaperKind.CREDIT_NOTE)
GONE = "(erased)"
SOUGHT = ("name", "company", "email", "phone")
LEAST_TO_SEEK = 3  # whole words alone are sought
# What says only what somebody typed.
REMARKS = ("noted", "details_changed", "photo_added", "photo_removed", "mark_added", "mark_removed")

ADDRESS = ("address", "postcode", "town", "vat_number", "buyer_reference")


class NotAllowed(Exception):
    """The message is a sentence for people."""


@dataclass(frozen=True)
class Holding:
    """How much there is of a person. `in_the_way` are sentences that say why they cannot be erased now."""

    instruments: int
    orders: int
    invoices: int
    papers: int
    mails: int
    photos: int
    in_the_way: tuple


def holding_of(customer):
    """What is on file of `customer`; eight queries."""
    orders = WorkOrder.objects.filter(customer=customer)
    invoices = Invoice.objects.issued().filter(customer=customer)
    in_the_way = []
    if orders.filter(state__in=OPEN).exists():
        in_the_way.append("An order is still in the workshop. Hand the instrument over first.")
    if invoices.unpaid().exists():
        in_the_way.append("An invoice is not paid yet, and the claim needs a name.")
    return Holding(
        customer.instruments.count(), orders.count(), invoices.count(), Paper.objects.filter(order__in=orders).count(),
        OutgoingMail.objects.filter(customer=customer).count(), Photo.objects.filter(order__in=orders).count(),
        tuple(in_the_way),
    )  # fmt: skip


@transaction.atomic
def erase(customer, *, by):
    """Take the person out; returns what is left of the record, or None.

    Raises NotAllowed while an order is open or an invoice unpaid. Files are deleted once the records no longer speak
    of them, never before. Whom somebody else erased in the meantime nothing more is done to.
    """
    held = Customer.objects.select_for_update().filter(pk=customer.pk).first()
    if held is None:
        return None
    in_the_way = holding_of(held).in_the_way
    if in_the_way:
        raise NotAllowed(" ".join(in_the_way))
    orders = list(WorkOrder.objects.select_for_update().filter(customer=held))
    sent = list(OutgoingMail.objects.filter(customer=held, is_local=True).values_list("message_id", flat=True))
    transaction.on_commit(lambda: local_outbox.take_out(sent))
    files = _papers_and_mails(held, orders) + _orders(held, orders, by)
    Answer.objects.filter(order__in=orders).update(name="")
    CustomerLink.objects.filter(order__in=orders).delete()
    Taste.objects.filter(customer=held).delete()
    Instrument.objects.filter(customer=held).update(notes="", taste="")
    CustomerMerge.forget(kept=held)
    InstrumentMerge.forget(kept__customer=held)
    # An instrument that somebody had before is spoken of by their orders, and those by an instrument that has an owner.
    of_others = WorkOrder.objects.filter(instrument__customer=held)
    if not (orders or of_others.exists() or Invoice.objects.filter(customer=held).exists()):
        Instrument.objects.filter(customer=held).delete()
        held.delete()
        return None
    transaction.on_commit(lambda: [default_storage.delete(name) for name in files])
    return _reduced(held)


def _reduced(customer):
    for name in ("company", "email", "phone", *ADDRESS, "taste", "notes"):
        setattr(customer, name, "")
    customer.name, customer.mail_agreed = f"Erased customer {customer.pk}", False
    customer.erased_at = timezone.now()
    customer.save(update_fields=[
        "name", "company", "email", "phone", *ADDRESS, "taste", "notes", "mail_agreed", "erased_at",
    ])  # fmt: skip
    return customer


def _papers_and_mails(customer, orders):
    """Mails go; papers but for invoices and credit notes go. Returns the names of their files."""
    OutgoingMail.objects.filter(customer=customer, state=MailState.WAITING).update(state=MailState.WITHDRAWN)
    mails = OutgoingMail.objects.filter(customer=customer)
    mails.delete()
    papers = Paper.objects.filter(order__in=orders).exclude(kind__in=KEPT_PAPERS)
    files = list(papers.values_list("file", flat=True))
    papers.erase()
    return files


def _orders(customer, orders, by):
    """What orders say in words, their pictures and signatures go; who did what, when, stays."""
    photos = Photo.objects.filter(order__in=orders)
    files = [name for pair in photos.values_list("file", "thumb") for name in pair]
    files += [order.signature.name for order in orders if order.signature]
    photos.delete()
    ConditionMark.objects.filter(order__in=orders).update(note=GONE)
    WorkOrder.objects.filter(pk__in=[order.pk for order in orders]).update(
        complaint=GONE, condition="", came_with="", bench_note="", state_reason="", signature=""
    )
    _events(customer, orders)
    now = timezone.now()
    Event.objects.bulk_create(
        Event(order=order, at=now, by=by, what="erased", text="What was on file of the customer was erased on request.")
        for order in orders
    )
    return files


def _sought(customer):
    """What names the person: a pattern of whole words, of all records of them that became one."""
    said = [{name: getattr(customer, name) for name in SOUGHT}]
    said += [one.details.get("fields", {}) for one in customer.merges.all()]
    words = {one.get(name) or "" for one in said for name in SOUGHT}
    words |= {part for one in said for part in re.findall(r"[^\W\d_]+", one.get("name") or "")}
    known = sorted((word for word in words if len(word) >= LEAST_TO_SEEK), key=len, reverse=True)
    return re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, known))})(?!\w)" if known else r"(?!)", re.IGNORECASE)


def _events(customer, orders):
    """The history keeps its sentences without the person's name, addresses and numbers, and without free remarks.

    An instrument sold since says at its next order whose it was, and is described in words of that time.
    """
    sought, brought = _sought(customer), {order.instrument_id for order in orders}
    for one in Instrument.objects.filter(pk__in=brought).exclude(customer=customer):
        one.notes, one.taste = (sought.sub(GONE, text) for text in (one.notes, one.taste))
        one.save(update_fields=["notes", "taste"])
    changed = []
    told = Q(order__in=orders) | Q(order__instrument__in=brought, what="owner_changed")
    for event in Event.objects.filter(told).iterator(chunk_size=500):
        text = GONE if event.what in REMARKS else event.text
        text = sought.sub(GONE, text)
        if (text, {}) != (event.text, event.data):
            event.text, event.data = text, {}
            changed.append(event)
    Event.objects.bulk_update(changed, ["text", "data"], batch_size=500)
