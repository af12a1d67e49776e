"""A month's journal: every invoice and credit note issued in it, its tax by rate, and the money that moved."""

import calendar
import re
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from django.core.cache import cache
from django.db.models import Count, Sum

from shop.billing.models import Invoice, InvoiceKind, Payment, PaymentKind
from shop.billing.querysets import exact
from shop.billing.treatments import SHORT

ZERO = Decimal("0.00")
YEARS = range(2000, 2101)
KEY = re.compile(r"[^0-9a-z]+")  # what a key of the cache does without
KEPT_S = 90 * 24 * 3600
COLUMNS = (
    "number", "kind", "issued_on", "customer__name", "customer__company", "order__number", "corrects__number",
    "currency", "net", "tax", "total", "snapshot__rates", "snapshot__tax_treatment",
)  # fmt: skip


@dataclass(frozen=True)
class Month:
    """A month of the workshop's books, or of those that `branches` (their keys) keep; None is all of them."""

    year: int
    month: int
    branches: tuple | None = None

    @property
    def first(self):
        return date(self.year, self.month, 1)

    @property
    def last(self):
        return date(self.year, self.month, calendar.monthrange(self.year, self.month)[1])

    @property
    def of_branch(self):
        """What an address of the month ends with to be about one branch's books."""
        return f"?branch={self.branches[0]}" if self.branches and len(self.branches) == 1 else ""

    @property
    def before(self):
        return Month(self.year - (self.month == 1), (self.month - 2) % 12 + 1, self.branches)

    @property
    def after(self):
        return Month(self.year + (self.month == 12), self.month % 12 + 1, self.branches)

    def __str__(self):
        return f"{calendar.month_name[self.month]} {self.year}"

    @property
    def is_known(self):
        return self.year in YEARS and 1 <= self.month <= 12


@dataclass(frozen=True)
class Share:
    """What of one paper, or of a whole month, stands under one rate of tax. Below zero on a credit note."""

    rate: Decimal
    net: Decimal
    tax: Decimal
    treatment: str = ""  # why an invoice to another member state bears no tax, apart from what is exempt here

    @property
    def total(self):
        return self.net + self.tax

    @property
    def treated_as(self):
        return SHORT.get(self.treatment, "")


@dataclass(frozen=True)
class Entry:
    """One paper in the journal."""

    number: str
    kind: str
    issued_on: date
    customer: str
    order: str
    corrects: str
    currency: str
    net: Decimal
    tax: Decimal
    total: Decimal
    shares: tuple


@dataclass
class Sums:
    """What the entries of one currency add up to."""

    currency: str
    count: int = 0
    net: Decimal = ZERO
    tax: Decimal = ZERO
    total: Decimal = ZERO
    by_rate: dict = field(default_factory=dict)

    def add(self, entry):
        self.count += 1
        self.net, self.tax, self.total = self.net + entry.net, self.tax + entry.tax, self.total + entry.total
        for one in entry.shares:
            own = self.by_rate.setdefault((one.rate, one.treatment), [ZERO, ZERO])
            own[0], own[1] = own[0] + one.net, own[1] + one.tax

    @property
    def rates(self):
        """Shares of the whole, the highest rate first."""
        keys = sorted(self.by_rate, key=lambda key: (-key[0], key[1]))
        return [Share(key[0], *self.by_rate[key], key[1]) for key in keys]


@dataclass(frozen=True)
class Moved:
    """Money of one kind in a month: what came in and what went back, entries taken back being left in both."""

    kind: str
    received: Decimal
    given_back: Decimal
    count: int

    @property
    def kept(self):
        return self.received - self.given_back


def papers_of(month):
    """The month's invoices and credit notes in the order in which they were issued."""
    issued = _in_books(Invoice.objects, month).issued()
    return issued.issued_between(month.first, month.last).order_by("issued_at", "pk")


def _in_books(rows, month):
    """By the branch that issued or received, wherever the order is by now."""
    return rows.all() if month.branches is None else rows.filter(branch__in=month.branches)


def entries(month):
    """The month's Entries, read a few hundred at a time."""
    for row in papers_of(month).values(*COLUMNS).iterator(chunk_size=500):
        yield _entry(row)


def _entry(row):
    sign = -1 if row["kind"] == InvoiceKind.CREDIT_NOTE else 1
    name, company = row["customer__name"], row["customer__company"]
    return Entry(
        number=row["number"], kind=InvoiceKind(row["kind"]).label, issued_on=row["issued_on"],
        customer=f"{name} ({company})" if company else name, order=row["order__number"],
        corrects=row["corrects__number"] or "", currency=row["currency"], net=row["net"], tax=row["tax"],
        total=row["total"],
        shares=tuple(
            Share(
                Decimal(one["rate"]), sign * Decimal(one["base"]), sign * Decimal(one["tax"]),
                row["snapshot__tax_treatment"] or "",
            )
            for one in row["snapshot__rates"]
        ),
    )  # fmt: skip


def sums_of(found):
    """[Sums], one for each currency, of an iterable of Entries."""
    by_currency = {}
    for one in found:
        by_currency.setdefault(one.currency, Sums(one.currency)).add(one)
    return list(by_currency.values())


def sums_now(month):
    """[Sums] of the month. Four queries at most.

    What is issued never changes and is never taken away, so it is only added up again when something was issued since.
    """
    issued = _in_books(Invoice.objects, month).issued_between(month.first, month.last)
    newest = issued.newest_first().values_list("pk", "issued_at").first()
    if newest is None:
        return []
    key = f"journal-{month.year}-{month.month}-{month.branches}-{issued.count()}-{newest[0]}-{newest[1]}"
    return cache.get_or_set(KEY.sub("-", key), lambda: sums_of(entries(month)), KEPT_S)


def moved(month):
    """[Moved] of the money received and given back in the month, by kind."""
    rows = _in_books(Payment.objects, month).filter(received_on__gte=month.first, received_on__lte=month.last)
    came = _by_kind(rows.filter(amount__gt=0))
    went = _by_kind(rows.filter(amount__lt=0))
    return [
        Moved(kind.label, came.get(kind, (ZERO, 0))[0], -went.get(kind, (ZERO, 0))[0],
              came.get(kind, (ZERO, 0))[1] + went.get(kind, (ZERO, 0))[1])
        for kind in PaymentKind if kind in came or kind in went
    ]  # fmt: skip


def _by_kind(rows):
    found = rows.order_by().values("kind").annotate(sum=Sum("amount"), count=Count("pk"))
    return {PaymentKind(one["kind"]): (exact(one["sum"]), one["count"]) for one in found}


CSV_HEADS = (
    "number", "kind", "issued on", "customer", "order", "corrects", "currency", "tax rate, %", "net", "tax", "gross",
    "treated as",
)  # fmt: skip


def csv_rows(month):
    """One row for each paper and rate, so that columns can be summed by rate; credit notes below zero."""
    for one in entries(month):
        for share in one.shares:
            yield (
                one.number, one.kind, one.issued_on, one.customer, one.order, one.corrects, one.currency, share.rate,
                share.net, share.tax, share.total, share.treated_as,
            )  # fmt: skip
