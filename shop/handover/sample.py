"""An order that never was, to show how a mail will look."""

from datetime import timedelta
from decimal import Decimal
from types import SimpleNamespace

from shop.billing.totals import Priced, totals
from shop.lib import money
from shop.lib.dates import today


class Instrument(SimpleNamespace):
    def __str__(self):
        return "Larkrise archtop"


def given(workshop):
    """A mail's context, of invented things: whatever any of the mails may name is in it."""
    lines = [
        Priced("Setup: relief, nut, height and intonation", Decimal(1), Decimal("85.00"), workshop.tax_rate),
        Priced("String set", Decimal(1), Decimal("14.50"), workshop.tax_rate, "part"),
    ]
    found = totals(lines, prices_include_tax=workshop.prices_include_tax, currency=workshop.currency)
    nothing = totals([], prices_include_tax=True)
    instrument = Instrument(colour="tobacco burst", serial="0042")
    customer = SimpleNamespace(name="Mara Fell", email="mara@example.com")
    order = SimpleNamespace(
        number="26-0042", promised_on=today() + timedelta(days=7), complaint="Buzzes on the low string.",
        came_with="hard case", condition="", intake_terms="", customer=customer, instrument=instrument,
    )  # fmt: skip
    invoice = SimpleNamespace(
        number="R26-0042", total=found.total, currency=workshop.currency, due_on=today() - timedelta(days=10),
        reason="Wrong strings were billed.", corrects=SimpleNamespace(number="R26-0041"),
    )  # fmt: skip
    account = SimpleNamespace(
        proposed=found, agreed=nothing, standing=invoice, to_pay=found.total, to_give_back=Decimal(0),
        received=Decimal(0), currency=workshop.currency,
    )  # fmt: skip
    return {
        "workshop": workshop, "customer": customer, "order": order, "instrument": instrument, "invoice": invoice,
        "account": account, "visit": [order], "left": [{"order": order, "instrument": instrument, "marks": []}],
        "page": "https://workshop.example.com/your-order",
        "rows": [_owed(invoice)],
        "open": money.shown(found.total, workshop.currency),
        "quote": SimpleNamespace(valid_until=today() + timedelta(days=30)),
    }  # fmt: skip


def _owed(invoice):
    """The invoice as a row of a statement."""
    balance = SimpleNamespace(open_amount=invoice.total)
    return SimpleNamespace(number=invoice.number, due_on=invoice.due_on, currency=invoice.currency, balance=balance)
