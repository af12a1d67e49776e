"""What the lines come to, and by when the work could be done: the sum under the counter's form."""

from dataclasses import dataclass
from decimal import Decimal

from shop.lib import money
from shop.lib.dates import read_day
from shop.lib.keys import keys_of
from shop.orders import promising
from shop.stock.models import PriceItem


@dataclass(frozen=True)
class ReckonedPiece:
    """One instrument: when it could be done, after those before it in the visit."""

    place: int
    named: str
    minutes: int
    proposal: promising.Proposal
    overload: str  # a sentence when the day that was typed is too early for all that is promised


@dataclass(frozen=True)
class Reckoned:
    """`total` in the shop's currency, as its prices are: with or without tax."""

    count: int
    total: Decimal
    pieces: tuple

    @property
    def proposal(self):
        return self.pieces[0].proposal


def amount(line, currency):
    """What a line comes to, rounded once."""
    return money.rounded(line.price * line.quantity, currency)


def total(lines, currency):
    return sum((amount(line, currency) for line in lines), Decimal("0.00"))


def reckoned(form):
    """The Reckoned of a BookInForm as far as it makes sense; what cannot be read is left out, not refused."""
    currency = form.workshop.currency
    carried = form.carried or promising.Carried.here(form.workshop)
    ticked = [key for piece in form.pieces for key in keys_of(piece.job["items"].value())]
    items = {item.pk: item for item in PriceItem.objects.offered().filter(pk__in=ticked)}
    all_lines, pieces, minutes = [], [], 0
    for piece in form.pieces:
        lines = _lines_of(piece, items)
        all_lines += lines
        own = sum(minutes for _, _, minutes in lines)
        minutes += own
        pieces.append(_piece(piece, own, minutes, carried))
    sums = (money.rounded(price * quantity, currency) for price, quantity, _ in all_lines)
    return Reckoned(len(all_lines), sum(sums, Decimal("0.00")), tuple(pieces))


def _piece(piece, own, until_now, carried):
    day = read_day(piece.job["promised_on"].value())
    overload = promising.overload(day, place=piece.workshop, minutes=until_now, bench=carried.bench)
    return ReckonedPiece(piece.place, piece.named, own, carried.proposal(until_now), overload)


def _lines_of(piece, items):
    """(price, quantity, minutes) of all that is ticked or typed for the instrument."""
    ticked = [items[key] for key in keys_of(piece.job["items"].value()) if key in items]
    return [(item.price, Decimal(1), item.usual_minutes) for item in ticked] + _readable(piece.lines)


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
