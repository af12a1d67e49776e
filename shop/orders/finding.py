"""One box that finds a customer, an instrument or an order by whatever somebody remembers of it."""

import re
from dataclasses import dataclass, field

from shop.instruments.models import Instrument
from shop.lib.dates import today
from shop.lib.folding import printable
from shop.lib.paging import apart, picked
from shop.orders.models import WorkOrder
from shop.orders.querysets import parties_matching
from shop.people.models import Customer
from shop.staff.branching import choices

MOST = 8  # of each kind; whoever sees more than that types on
LONGEST = 200
SCANNED = re.compile(r"/(?:t|orders)/([\w-]+)/?$")
SAID = re.compile(r"(\d{2})[\s.\-–/]*([A-Z]{0,3})\s*(\d{4,6})")
SHORT = re.compile(r"([A-Z]{0,3})\s*(\d{1,4})")


@dataclass(frozen=True)
class Found:
    """`order` is the one whose number was said exactly, or None; `whose` the keys of all customers who may be meant."""

    text: str
    order: WorkOrder | None = None
    whose: list = field(default_factory=list)
    customers: list = field(default_factory=list)
    instruments: list = field(default_factory=list)
    orders: list = field(default_factory=list)

    @property
    def is_empty(self):
        return not (self.order or self.customers or self.instruments or self.orders)


def find(text, person):
    """Everything that `text` may mean for `person`, at most `MOST` of a kind. At most seven queries."""
    text = printable(text).strip()[:LONGEST]
    if not text:
        return Found("")
    exact = order_said(text, person)
    if SCANNED.search(text):
        return Found(text, exact)
    whose, what = parties = parties_matching(text)
    others = WorkOrder.objects.for_person(person).of_parties_or_number(text, parties)
    others = others.exclude(pk=exact.pk) if exact else others
    customers = list(apart(Customer.objects.filter(pk__in=whose)).prefetch_related("instruments")[:MOST])
    instruments = Instrument.objects.filter(pk__in=what).exclude(customer__in=customers)  # theirs are with them
    return Found(
        text,
        exact,
        whose,
        customers,
        list(apart(instruments).select_related("customer")[:MOST]),
        list(picked(others, WorkOrder.objects.with_parties(), 0, MOST)),
    )


def order_said(text, person):
    """The order whose number is `text`, as said, typed or scanned; None when `person` sees no such order.

    `26-0147`, `26 0147`, `260147`, a tag's address, and `147` for this year's (if it is not there yet, last year's).
    A branch's mark stands before the count: `26-H0147`, `26h147`, or `h147`.
    """
    numbers = _numbers_said(text.strip(), _marks(person))
    orders = WorkOrder.objects.for_person(person).with_parties().filter(number__in=numbers)
    found = {order.number: order for order in orders}
    return next((found[number] for number in numbers if number in found), None)


def _marks(person):
    """The marks that a number said without one may mean."""
    return [branch.mark for branch in choices(person)] or [""]


def _numbers_said(text, marks):
    scanned = SCANNED.search(text)
    if scanned:
        return [scanned[1]]
    said = SAID.fullmatch(text.upper())
    if said:
        return [f"{said[1]}-{mark}{int(said[3]):04d}" for mark in ([said[2]] if said[2] else ["", *marks])]
    short = SHORT.fullmatch(text.upper())
    if short:
        year, own = today().year, [short[1]] if short[1] else marks
        return [f"{one % 100:02d}-{mark}{int(short[2]):04d}" for one in (year, year - 1) for mark in own]
    return [text.upper()]
