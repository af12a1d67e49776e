"""From priced lines to an invoice's amounts: a pure function, as EN 16931 computes them.

1. Each line: quantity × price, rounded once (BT-131).
2. Lines are summed by tax rate; a discount in per cent is taken off each sum and rounded (BT-92).
3. Prices without tax: the sum less its discount is the base (BT-116) and the tax is base × rate, rounded (BT-117,
   BR-CO-17). Prices with tax: the sum less its discount is what the customer was told, to the cent; the base is that
   × 100 / (100 + rate), rounded, and the tax is the rest. The tax then differs by at most one cent from base × rate
   rounded, which the published test of BR-CO-17 allows.
4. Totals are sums of these (BR-CO-13 to BR-CO-15) and are not rounded again.
"""

from dataclasses import dataclass
from decimal import Decimal

from shop.lib.money import rounded, without_tax

ZERO = Decimal("0.00")
HUNDRED = Decimal(100)


@dataclass(frozen=True)
class Priced:
    """Something to be billed. `tax_rate` in per cent; `price` each, with tax or without, as all the shop's prices."""

    text: str
    quantity: Decimal
    price: Decimal
    tax_rate: Decimal
    kind: str = "work"


@dataclass(frozen=True)
class BilledLine:
    text: str
    quantity: Decimal
    price: Decimal
    tax_rate: Decimal
    kind: str
    amount: Decimal  # quantity × price, rounded once


@dataclass(frozen=True)
class RateSum:
    """Everything under one tax rate. `lines` and `discount` are as prices are; `base` is without tax."""

    rate: Decimal
    lines: Decimal
    discount: Decimal
    base: Decimal
    tax: Decimal


@dataclass(frozen=True)
class Totals:
    lines: tuple
    rates: tuple  # highest rate first
    sum: Decimal  # of the lines' amounts, as prices are
    discount: Decimal  # as prices are
    net: Decimal
    tax: Decimal
    total: Decimal


def untaxed(priced, *, prices_include_tax, currency="EUR"):
    """`priced` at 0 %: what each costs without tax, rounded once, where prices include it."""
    for one in priced:
        price = without_tax(one.price, one.tax_rate, currency) if prices_include_tax else rounded(one.price, currency)
        yield Priced(one.text, one.quantity, price, ZERO, one.kind)


def totals(priced, *, prices_include_tax, currency="EUR", discount_percent=ZERO):
    """The amounts of an invoice over `priced`, an iterable of Priced (or anything with its fields)."""
    lines = tuple(_line(one, currency) for one in priced)
    by_rate = {}
    for line in lines:
        by_rate[line.tax_rate] = by_rate.get(line.tax_rate, ZERO) + line.amount
    rates = tuple(
        _rate_sum(rate, by_rate[rate], discount_percent, prices_include_tax, currency)
        for rate in sorted(by_rate, reverse=True)
    )
    net, tax = sum((one.base for one in rates), ZERO), sum((one.tax for one in rates), ZERO)
    return Totals(
        lines, rates, sum(by_rate.values(), ZERO), sum((one.discount for one in rates), ZERO), net, tax, net + tax
    )


def _line(one, currency):
    amount = rounded(one.quantity * one.price, currency)
    return BilledLine(one.text, one.quantity, one.price, one.tax_rate, one.kind, amount)


def _rate_sum(rate, amount, discount_percent, prices_include_tax, currency):
    discount = rounded(amount * discount_percent / HUNDRED, currency)
    told = amount - discount
    if prices_include_tax:
        base = rounded(told * HUNDRED / (HUNDRED + rate), currency)
        return RateSum(rate, amount, discount, base, told - base)
    return RateSum(rate, amount, discount, told, rounded(told * rate / HUNDRED, currency))
