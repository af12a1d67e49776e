"""What the lines come to, and by when the work could be done: the sum under the counter's form."""

from dataclasses import dataclass
from decimal import Decimal

from shop.lib import money
from shop.lib.dates import read_day
from shop.lib.keys import keys_of
from shop.orders import promising
from shop.stock.models import PriceItem


@dataclass(frozen=True)
class Reckoned:
    """`total` in the shop's currency, as its prices are: with or without tax. `proposal` is a promising.Proposal."""

    count: int
    total: Decimal
    minutes: int
    proposal: promising.Proposal
    overload: str  # a sentence when the day that was typed is too early for all that is promised


def amount(line, currency):
    """What a line comes to, rounded once."""
    return money.rounded(line.price * line.quantity, currency)


def total(lines, currency):
    return sum((amount(line, currency) for line in lines), Decimal("0.00"))


def reckoned(form):
    """The Reckoned of a BookInForm as far as it makes sense; what cannot be read is left out, not refused."""
    items = PriceItem.objects.offered().filter(pk__in=keys_of(form.job["items"].value()))
    lines = [_of_item(item) for item in items] + _readable(form.lines)
    minutes = sum(minutes for _, _, minutes in lines)
    currency, hours = form.workshop.currency, form.workshop.bench_hours_a_day
    carried = form.carried or promising.Carried.here(hours_a_day=hours)
    day = read_day(form.job["promised_on"].value())
    return Reckoned(
        count=len(lines),
        total=sum((money.rounded(price * quantity, currency) for price, quantity, _ in lines), Decimal("0.00")),
        minutes=minutes,
        proposal=carried.proposal(minutes),
        overload=promising.overload(day, hours_a_day=hours, minutes=minutes, bench=carried.bench),
    )


def _of_item(item):
    return item.price, Decimal(1), item.usual_minutes


def _readable(formset):
    """(price, quantity, minutes) of the free lines that can be read."""
    if not formset.is_bound:
        return []
    formset.is_valid()
    read = [getattr(form, "cleaned_data", {}) for form in formset.forms]
    return [
        (one["price"], one["quantity"], one.get("minutes") or 0)
        for one in read
        if one.get("price") is not None and one.get("quantity") is not None
    ]
