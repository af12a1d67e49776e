"""One box that finds a customer, an instrument or an order by whatever somebody remembers of it."""

import re
from dataclasses import dataclass, field

from shop.instruments.models import Instrument
from shop.lib.dates import today
from shop.lib.folding import printable
from shop.orders.models import WorkOrder
from shop.people.models import Customer

MOST = 8  # of each kind; whoever sees more than that types on
LONGEST = 200
SCANNED = re.compile(r"/(?:t|orders)/([\w-]+)/?$")
SAID = re.compile(r"(\d{2})[\s.\-–/]*(\d{4,6})")
SHORT = re.compile(r"\d{1,4}")


@dataclass(frozen=True)
class Found:
    """`order` is the one whose number was said exactly, or None."""

    text: str
    order: WorkOrder | None = None
    customers: list = field(default_factory=list)
    instruments: list = field(default_factory=list)
    orders: list = field(default_factory=list)

    @property
    def is_empty(self):
        return not (self.order or self.customers or self.instruments or self.orders)


def find(text):
    """Everything that `text` may mean, at most `MOST` of a kind. At most six queries."""
    text = printable(text).strip()[:LONGEST]
    if not text:
        return Found("")
    exact = order_said(text)
    if SCANNED.search(text):
        return Found(text, exact)
    others = WorkOrder.objects.with_parties().matching(text).exclude(pk=exact.pk if exact else None)
    return Found(
        text,
        exact,
        list(Customer.objects.matching(text).prefetch_related("instruments")[:MOST]),
        list(Instrument.objects.matching(text).select_related("customer")[:MOST]),
        list(others[:MOST]),
    )


def order_said(text):
    """The order whose number is `text`, as said, typed or scanned; None when there is no such order.

    `26-0147`, `26 0147`, `260147`, a tag's address, and `147` for this year's (if it is not there yet, last year's).
    """
    numbers = _numbers_said(text.strip())
    found = {order.number: order for order in WorkOrder.objects.with_parties().filter(number__in=numbers)}
    return next((found[number] for number in numbers if number in found), None)


def _numbers_said(text):
    scanned = SCANNED.search(text)
    if scanned:
        return [scanned[1]]
    said = SAID.fullmatch(text)
    if said:
        return [f"{said[1]}-{int(said[2]):04d}"]
    if SHORT.fullmatch(text):
        year = today().year
        return [f"{one % 100:02d}-{int(text):04d}" for one in (year, year - 1)]
    return [text.upper()]
