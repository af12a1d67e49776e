"""What the counter needs in tests: a price list, a booking, and what a browser sends for one."""

import uuid
from decimal import Decimal

from shop.orders import services
from shop.orders.services import Booking
from shop.stock.models import PriceItem
from tests import factories


def price(name="Setup", amount="85.00", minutes=90, **fields):
    fields.setdefault("tax_rate", Decimal(20))
    return PriceItem.objects.create(name=name, price=Decimal(amount), usual_minutes=minutes, **fields)


def booking(customer=None, instrument=None, **fields):
    """A Booking of a known customer's known instrument, unless told otherwise."""
    customer = customer or (instrument.customer if instrument else None) or factories.customer()
    instrument = instrument or factories.instrument(customer)
    fields.setdefault("complaint", "Buzzes on the low string.")
    fields.setdefault("draft_key", uuid.uuid4())
    return Booking(customer=customer, instrument=instrument, **fields)


def booked(by, **fields):
    """An order as the counter books it in; nothing above is called."""
    return services.book_in(booking(**fields), by=by, afterwards=())


def booked_together(by, count=2, **fields):
    """The orders of one visit in which a customer brings `count` instruments."""
    customer = factories.customer()
    instruments = [factories.instrument(customer, serial=f"LR-{number}") for number in range(1, count + 1)]
    return services.book_in_together([booking(customer, one, **fields) for one in instruments], by=by, afterwards=())


def form_data(**fields):
    """What a browser sends for a new customer with a new instrument. `fields` use _ for the - of names."""
    data = {
        "job-draft_key": str(uuid.uuid4()), "job-complaint": "Buzzes on the low string.", "job-priority": "0",
        "customer-name": "Jonas Reed", "customer-phone": "01632 960555", "customer-email": "jonas@example.com",
        "instrument-kind": "electric", "instrument-family": "two_post_stop", "instrument-string_count": "6",
        "instrument-hand": "right", "instrument-maker": "Larkrise", "instrument-serial": "JR-77",
        "lines-TOTAL_FORMS": "1", "lines-INITIAL_FORMS": "0", "lines-0-kind": "work", "lines-0-quantity": "1",
        "marks-TOTAL_FORMS": "1", "marks-INITIAL_FORMS": "0", "marks-0-side": "front",
    }  # fmt: skip
    data |= {name.replace("__", "-"): value for name, value in fields.items()}
    return {name: value for name, value in data.items() if value is not None}


def known_data(instrument, **fields):
    """What a browser sends for a customer and an instrument that are on file."""
    data = form_data(**fields)
    gone = ("customer-", "instrument-")
    return {name: value for name, value in data.items() if not name.startswith(gone)} | {
        "customer": str(instrument.customer_id),
        "instrument": str(instrument.pk),
    }
