"""Orders with lines of work, at any point of the way, built straight into the database."""

import itertools
import uuid
from decimal import Decimal

from django.utils import timezone

from shop.orders.models import Agreement, Line, WorkOrder
from shop.orders.states import State
from shop.staff.models import Branch
from tests import factories

COUNT = itertools.count(3001)  # far from what a test numbers itself, or has numbered


def order(by, *, lines=(("Setup", "85.00"),), instrument=None, **fields):
    """An order whose work is checked, with agreed lines given as (text, price[, quantity[, tax rate]])."""
    fields.setdefault("state", State.CHECKED)
    fields.setdefault("branch", Branch.first())
    fields.setdefault("complaint", "Buzzes on the low string.")
    instrument = instrument or factories.instrument()
    now = timezone.now()
    made = WorkOrder.objects.create(
        number=f"26-{next(COUNT):04d}", customer=instrument.customer, instrument=instrument, booked_at=now,
        booked_by=by, state_since=now, **fields,
    )  # fmt: skip
    for one in lines:
        line(made, *one)
    return made


def line(of, text, price, quantity="1", tax_rate="20", **fields):
    fields.setdefault("agreement", Agreement.AGREED)
    return Line.objects.create(
        order=of, text=text, price=Decimal(price), quantity=Decimal(quantity), tax_rate=Decimal(tax_rate), **fields
    )


def key():
    return uuid.uuid4()
