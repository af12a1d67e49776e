"""Amounts without tax, which is how EN 16931 wants every line, from an invoice whose prices may include it.

Prices without tax are taken as they stand. Prices with tax: the lines of one rate are worth, without tax, their sum
× 100 / (100 + rate), rounded once; that is dealt out to the lines in proportion, the last cents to those that lost
most by rounding down. So the lines add up to the base of their rate (BR-S-08, BR-Z-08, BR-E-08), which the invoice
names, and none is further than one cent from its own share.
"""

from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from shop.lib.money import WITHOUT_UNITS, rounded

HUNDRED = Decimal(100)
ZERO = Decimal("0.00")
PRICE_STEP = Decimal("0.000001")  # a price each has no fixed number of decimals (BT-146)


@dataclass(frozen=True)
class NetLine:
    price: Decimal  # each, BT-146
    amount: Decimal  # BT-131


@dataclass(frozen=True)
class NetRate:
    """Everything under one rate. `base` = `lines` − `discount`."""

    rate: Decimal
    lines: Decimal
    discount: Decimal
    base: Decimal
    tax: Decimal


def net_of(kept):
    """([NetLine], [NetRate]) of a snapshot, in its order."""
    lines = [None] * len(kept["lines"])
    rates = []
    for one in kept["rates"]:
        rate = Decimal(one["rate"])
        places = [n for n, line in enumerate(kept["lines"]) if Decimal(line["tax_rate"]) == rate]
        own = _shares(kept, places, rate)
        for place, amount in zip(places, own, strict=True):
            lines[place] = NetLine(_price(kept, kept["lines"][place], rate), amount)
        worth, base = sum(own, ZERO), Decimal(one["base"])
        rates.append(NetRate(rate, worth, worth - base, base, Decimal(one["tax"])))
    return lines, rates


def _shares(kept, places, rate):
    amounts = [Decimal(kept["lines"][n]["amount"]) for n in places]
    if not kept["prices_include_tax"]:
        return amounts
    whole = rounded(sum(amounts, ZERO) * HUNDRED / (HUNDRED + rate), kept["currency"])
    return dealt_out(whole, [amount * HUNDRED / (HUNDRED + rate) for amount in amounts], kept["currency"])


def dealt_out(whole, exact, currency):
    """`whole` dealt out as amounts of `currency`, each as near to its place in `exact` as their sum allows."""
    step = Decimal(1) if currency in WITHOUT_UNITS else Decimal("0.01")
    low = [one.quantize(step, rounding=ROUND_FLOOR) for one in exact]
    left = int((whole - sum(low, ZERO)) / step)
    by_loss = sorted(range(len(exact)), key=lambda n: (low[n] - exact[n], n))
    for place in by_loss[:left]:
        low[place] += step
    return [one.quantize(ZERO) for one in low]


def _price(kept, line, rate):
    price = Decimal(line["price"])
    if not kept["prices_include_tax"]:
        return price
    return (price * HUNDRED / (HUNDRED + rate)).quantize(PRICE_STEP)
