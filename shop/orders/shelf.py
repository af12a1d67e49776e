"""The parts of one order, and how the shelf stands for them."""

from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Prefetch, prefetch_related_objects

from shop.orders.models import Agreement, Line
from shop.staff.branching import several
from shop.stock.levels import Level, levels_of
from shop.stock.models import ON_SHELF
from shop.stock.services.shelf import taken_for


@dataclass(frozen=True)
class PartLine:
    """A line of a part with what has left the shelf for it, and its item's Level."""

    line: Line
    taken: Decimal
    level: Level

    @property
    def missing(self):
        return max(Decimal(0), self.line.quantity - self.taken)

    @property
    def is_declined(self):
        return self.line.agreement == Agreement.DECLINED

    @property
    def standing(self):
        """(word, its mark)."""
        if self.taken and not self.missing:
            return ("taken, but declined", "amiss") if self.is_declined else ("taken", "fine")
        if self.is_declined:
            return ("declined", "not")
        if self.level.on_hand < self.missing:
            return ("not on the shelf", "amiss")
        return ("on the shelf", "waiting") if self.line.agreement == Agreement.PROPOSED else ("kept for it", "waiting")


# An order's lines as its page fetches them, once for whoever asks.
LINES = Prefetch("lines", Line.objects.select_related("item"))


def parts_of(order):
    """A PartLine for each line of a part or string set that comes from the shelf of its branch; four queries."""
    prefetch_related_objects([order], LINES)
    lines = [line for line in order.lines.all() if line.item and line.item.kind in ON_SHELF]
    if not lines:
        return []
    taken = taken_for([line.pk for line in lines])
    branch = order.branch if several() else None
    levels = {level.item.pk: level for level in levels_of({line.item for line in lines}, branch)}
    return [PartLine(line, taken.get(line.pk, Decimal(0)), levels[line.item_id]) for line in lines]
