"""Booking in: a customer, what they bring in one visit and an order for each are written together, or not at all."""

import uuid
from dataclasses import dataclass
from datetime import date

from django.core.files.base import ContentFile
from django.db import IntegrityError, transaction
from django.utils import timezone

from shop.instruments.models import Instrument, InstrumentMerge
from shop.lib.dates import today
from shop.orders import hooks
from shop.orders.models import Agreement, ConditionMark, Priority, WorkOrder
from shop.orders.services.common import NotAllowed, note
from shop.orders.services.lines import add_lines, answer_lines
from shop.orders.services.photos import attach_drafts
from shop.people.models import Customer, CustomerMerge
from shop.staff.branching import whose
from shop.staff.models import Branch
from shop.staff.numbers import next_counted

AT_THE_COUNTER = "at the counter"


@dataclass(frozen=True)
class Booking:
    """What the counter knows when an instrument is left. Customer and instrument may be new and unsaved.

    An instrument of another customer becomes this customer's. `lines` are NewLine, `marks` unsaved ConditionMark.
    The same `draft_key` never books in twice.
    """

    customer: Customer
    instrument: Instrument
    complaint: str
    draft_key: uuid.UUID
    condition: str = ""
    came_with: str = ""
    bench_note: str = ""
    priority: int = Priority.USUAL
    promised_on: date | None = None
    rack_slot: str = ""
    lines: tuple = ()
    agreed: bool = False  # the customer agreed to all lines there and then
    marks: tuple = ()
    intake_terms: str = ""  # as they were accepted; the same for all that is brought in one visit
    signature: bytes = b""  # PNG
    branch: Branch | None = None  # where it is left; may be omitted where there is only one


def book_in(booking, *, by, afterwards=None):
    """Book one instrument in and return its order; see `book_in_together`."""
    return book_in_together([booking], by=by, afterwards=afterwards)[0]


def book_in_together(bookings, *, by, afterwards=None):
    """Book in what one customer brings in one visit; the orders in the order of `bookings`.

    The orders that are there already if one of the drafts was booked in before. Raises NotAllowed, a sentence, where
    customer or instrument were deleted meanwhile. `afterwards` are functions called as
    function(orders, by=by) in the same transaction; those registered in `shop.orders.hooks` unless given.
    """
    try:
        return _book_in(bookings, by=by, afterwards=hooks.after_book_in if afterwards is None else afterwards)
    except IntegrityError:
        # The same form, sent twice at the same moment: the other request was quicker.
        orders = booked_already(one.draft_key for one in bookings)
        if not orders:
            raise
        return orders


def booked_already(draft_keys):
    """The orders of the visit in which one of these drafts was booked in; none when it was not."""
    order = WorkOrder.objects.filter(draft_key__in=list(draft_keys)).first()
    return list(WorkOrder.objects.of_visit(order)) if order else []


@transaction.atomic
def _book_in(bookings, *, by, afterwards):
    visit, orders = uuid.uuid4(), []
    for booking in bookings:
        orders.append(_one(booking, visit, by=by))
    for function in afterwards:
        function(orders, by=by)
    return orders


def _one(booking, visit, *, by):
    branch = whose(booking.branch)
    number = next_order_number(branch)  # first of all, since it also makes simultaneous book-ins wait for each other
    if WorkOrder.objects.filter(draft_key=booking.draft_key).exists():
        raise IntegrityError("This draft is booked in already.")  # and gives the number back
    customer = _kept_customer(booking.customer, by=by)
    instrument, was_owner = _kept_instrument(booking.instrument, customer)
    order = _new_order(booking, branch, number, customer, instrument, visit, by=by)
    note(order, by=by, what="booked_in", text=f"Booked in: {instrument}, from {customer}.")
    if was_owner:
        text = f"{instrument} now belongs to {customer}; before, to {was_owner}."
        note(order, by=by, what="owner_changed", text=text, was=was_owner.pk)
    ConditionMark.objects.bulk_create(_of(order, booking.marks))
    attach_drafts(order, booking.draft_key)
    lines = add_lines(order, booking.lines, by=by)
    if booking.agreed and lines:
        answer_lines(order, lines, Agreement.AGREED, how=AT_THE_COUNTER, by=by)
    return order


def next_order_number(branch):
    """`26-0147`: the year, and a count that begins anew with it. Inside the transaction that uses it.

    A branch with a mark has it before its own count: `26-H0147`.
    """
    year = f"{today():%y}"
    return f"{year}-{next_counted(f'orders-{year}', branch)}"


def _kept_customer(customer, *, by):
    """The customer as they stand now, locked: no order is left on a record that is merged away at this moment."""
    if customer.pk is None:
        customer.created_by = by
        customer.save(force_insert=True)
        return customer
    held = CustomerMerge.held(customer.pk)
    if held is None:
        raise NotAllowed(f"{customer} was deleted meanwhile. Begin with the customer anew.")
    return held


def _kept_instrument(instrument, customer):
    """(the instrument, who owned it before if that has changed)."""
    if instrument.pk is None:
        instrument.customer = customer
        instrument.save(force_insert=True)
        return instrument, None
    held = InstrumentMerge.held(instrument.pk)
    if held is None:
        raise NotAllowed(f"{instrument} was deleted meanwhile. Begin with the instrument anew.")
    if held.customer_id == customer.pk:
        return held, None
    was, held.customer = held.customer, customer
    held.save(update_fields=["customer"])
    return held, was


def _new_order(booking, branch, number, customer, instrument, visit, *, by):
    now = timezone.now()
    order = WorkOrder(
        number=number, branch=branch, customer=customer, instrument=instrument, complaint=booking.complaint,
        condition=booking.condition, came_with=booking.came_with, bench_note=booking.bench_note,
        priority=booking.priority, promised_on=booking.promised_on, rack_slot=booking.rack_slot,
        booked_at=now, booked_by=by, state_since=now, draft_key=booking.draft_key, intake_terms=booking.intake_terms,
        visit=visit,
    )  # fmt: skip
    if booking.signature:
        order.signature.save(f"{uuid.uuid4().hex}.png", ContentFile(booking.signature), save=False)
    order.save(force_insert=True)
    return order


def _of(order, marks):
    for mark in marks:
        mark.order = order
    return marks
