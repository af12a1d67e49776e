"""A month of many invoices of every kind: rates, discounts, deposits, tax in the price or not, credit notes.

They are reckoned by the same functions that issuing uses, and written in bulk: issuing ten thousand one by one is
measured elsewhere.
"""

import random
from decimal import Decimal

from django.utils import timezone

from shop.billing import journal, snapshot
from shop.billing.account import Account
from shop.billing.models import Invoice, InvoiceKind
from shop.billing.totals import Priced, totals
from shop.lib.dates import today
from tests import factories, money_builders

RATES = [Decimal(rate) for rate in ("25.5", "20", "19", "7.7", "5", "0")]


def many(count, *, by, seed):
    """`count` invoices issued today and a credit note for about each eighth. The Totals, with the sign that counts."""
    chance, order, workshop = random.Random(seed), money_builders.order(by), factories.workshop()
    found, rows = [], []
    for turn in range(1, count + 1):
        workshop.prices_include_tax = chance.random() < 0.5
        percent = Decimal(chance.randrange(1, 10001)) / 100 if chance.random() < 0.3 else Decimal(0)
        one = totals(_lines(chance), prices_include_tax=workshop.prices_include_tax, discount_percent=percent)
        rows.append(_row(order, workshop, one, turn, by, number=f"R26-{turn:05d}"))
        found.append((1, one))
    Invoice.objects.bulk_create(rows, batch_size=500)
    credited = [pair for pair in zip(rows, found, strict=True) if chance.random() < 0.125]
    Invoice.objects.bulk_create([_note(order, workshop, one, row, by) for row, (_, one) in credited], batch_size=500)
    return found + [(-1, one) for _, (_, one) in credited]


def _lines(chance):
    return [
        Priced(
            f"Work {n}", Decimal(chance.randrange(1, 900)) / 100, Decimal(chance.randrange(0, 60000)) / 100,
            chance.choice(RATES),
        )
        for n in range(chance.randrange(1, 6))
    ]  # fmt: skip


def _row(order, workshop, one, turn, by, *, sign=1, **fields):
    account = Account(one, one, (), None, None, (), Decimal(0), "EUR")
    kept = snapshot.of_amounts(workshop, account, issued_on=today(), due_on=today())
    now = timezone.now()
    return Invoice(
        order=order, branch=order.branch, customer=order.customer, turn=turn, currency="EUR", created_at=now,
        created_by=by, issued_at=now,
        prices_include_tax=workshop.prices_include_tax, issued_by=by, issued_on=today(), due_on=today(),
        net=sign * one.net, tax=sign * one.tax, total=sign * one.total, snapshot=kept, **fields,
    )  # fmt: skip


def _note(order, workshop, one, row, by):
    return _row(
        order, workshop, one, row.turn, by, sign=-1, kind=InvoiceKind.CREDIT_NOTE, corrects=row, reason="Wrong.",
        number=f"C{row.number[1:]}",
    )  # fmt: skip


def sums_agree(reckoned, month):
    """The month's sums, reckoned in three ways: by the journal, by SQL, and from totals that were never stored."""
    (sums,) = journal.sums_of(journal.entries(month))
    rows = Invoice.objects.issued()
    assert {"net": sums.net, "tax": sums.tax, "total": sums.total} == rows.sums()
    assert sums.total == sum(rows.values_list("total", flat=True))
    assert sums.count == rows.count() == len(reckoned)
    by_rate = {}
    for sign, one in reckoned:
        for share in one.rates:
            net, tax = by_rate.get(share.rate, (0, 0))
            by_rate[share.rate] = (net + sign * share.base, tax + sign * share.tax)
    assert {one.rate: (one.net, one.tax) for one in sums.rates} == by_rate
    assert (sum(net for net, _ in by_rate.values()), sum(tax for _, tax in by_rate.values())) == (sums.net, sums.tax)
