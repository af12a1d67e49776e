"""How an item of the shelf stands: on hand, reserved, free, on order. All of it is added up, none of it stored."""

from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Max, Q, Sum

from shop.stock import hooks
from shop.stock.models import Movement, MovementKind, PriceItem
from shop.stock.shelves import as_kept_at

NONE = Decimal(0)


@dataclass(frozen=True)
class Level:
    """One item with its sums."""

    item: PriceItem
    on_hand: Decimal
    reserved: Decimal
    counted_at: object = None

    @property
    def free(self):
        """What nobody has been promised; below zero: promised and not here."""
        return self.on_hand - self.reserved

    @property
    def is_short(self):
        return self.free < 0

    @property
    def is_low(self):
        """Whether it has fallen to where it is reordered, or below what is promised."""
        return self.is_short or (self.item.reorder_at is not None and self.free <= self.item.reorder_at)

    @property
    def to_order(self):
        """How many to send for, after what is on its way; 0 when there is enough."""
        if not self.is_low:
            return NONE
        goal = max(one or NONE for one in (self.item.order_up_to, self.item.reorder_at))
        return max(NONE, goal - self.free - self.item.on_order)

    @property
    def standing(self):
        """(word, its mark) for lists."""
        if self.on_hand < 0:
            return "below zero", "amiss"
        if self.is_short:
            return "short", "amiss"
        if self.is_low:
            return "low", "waiting"
        return "enough", "fine"


def levels_of(items, branch=None):
    """A Level on the shelf of `branch` for each of `items`, in their order; two queries, however many there are."""
    items = as_kept_at(items, branch)
    keys = [item.pk for item in items]
    sums = _sums(keys, branch)
    reserved = reserved_of(keys, branch)
    return [
        Level(item, sums.get(item.pk, (NONE, None))[0], reserved.get(item.pk, NONE), sums.get(item.pk, (NONE, None))[1])
        for item in items
    ]


def level_of(item, branch=None):
    return levels_of([item], branch)[0]


def on_hand(item, branch=None):
    """How many lie on the shelf of `branch`; without one, on all shelves."""
    return item.movements.at(branch).aggregate(sum=Sum("quantity"))["sum"] or NONE


def reserved_of(keys, branch=None):
    """{item key: what rooms above have promised of it}."""
    found = {}
    for function in hooks.reserved_for:
        for key, quantity in function(keys, branch).items():
            found[key] = found.get(key, NONE) + quantity
    return found


def _sums(keys, branch):
    rows = Movement.objects.at(branch).filter(item__in=keys).order_by().values("item").annotate(
        sum=Sum("quantity"), counted=Max("at", filter=Q(kind=MovementKind.COUNTED))
    )  # fmt: skip
    return {row["item"]: (row["sum"], row["counted"]) for row in rows}


def to_reorder(branch=None):
    """Levels of everything that has to be sent for to the shelf of `branch`, by supplier and then name."""
    items = PriceItem.objects.offered().on_shelf().select_related("supplier")
    low = [level for level in levels_of(items, branch) if level.to_order > 0]
    return sorted(low, key=lambda one: ((one.item.supplier or _Nobody).name.casefold(), one.item.name.casefold()))


class _Nobody:
    name = "\uffff"  # items without a supplier stand last
