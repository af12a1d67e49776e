"""How an item of the shelf stands: on hand by its movements, reserved by agreed orders, free, on order."""

from dataclasses import dataclass
from decimal import Decimal

from django.db.models import OuterRef, Subquery, Sum, Value
from django.db.models.functions import Coalesce

from shop.staff.models import Branch
from shop.stock import hooks
from shop.stock.models import Movement, MovementKind, PriceItem, exact
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
    stands, reserved = _stands(keys, branch), reserved_of(keys, branch)
    return [Level(item, stands[item.pk][0], reserved.get(item.pk, NONE), stands[item.pk][1]) for item in items]


def level_of(item, branch=None):
    return levels_of([item], branch)[0]


def on_hand(item, branch=None):
    """How many lie on the shelf of `branch`; without one, on all shelves."""
    return _stands([item.pk], branch)[item.pk][0]


def reserved_of(keys, branch=None):
    """{item key: what rooms above have promised of it}."""
    found = {}
    for function in hooks.reserved_for:
        for key, quantity in function(keys, branch).items():
            found[key] = found.get(key, NONE) + quantity
    return found


def lies_at(branch):
    """Of a PriceItem, how many lie on the shelf of `branch`, or on all shelves: what the last movement on each says."""
    shelves = Branch.objects.order_by() if branch is None else Branch.objects.order_by().filter(pk=branch.pk)
    last = Movement.objects.filter(item=OuterRef(OuterRef("pk")), branch=OuterRef("pk")).order_by("-pk")
    each = shelves.annotate(lies=Subquery(last.values("after")[:1]), together=Value(1))
    return Coalesce(Subquery(each.values("together").annotate(sum=Sum("lies")).values("sum")), NONE)


def _stands(keys, branch):
    """{item's key: (how many lie there, when they were counted last)}. One query."""
    counts = Movement.objects.at(branch).filter(item=OuterRef("pk"), kind=MovementKind.COUNTED).order_by("-pk")
    rows = PriceItem.objects.filter(pk__in=keys).order_by()
    rows = rows.annotate(lies=lies_at(branch), counted_at=Subquery(counts.values("at")[:1]))
    return {key: (exact(lies), at) for key, lies, at in rows.values_list("pk", "lies", "counted_at")}


def to_reorder(branch=None):
    """Levels of everything that has to be sent for to the shelf of `branch`, by supplier and then name."""
    items = PriceItem.objects.offered().on_shelf().select_related("supplier")
    low = [level for level in levels_of(items, branch) if level.to_order > 0]
    return sorted(low, key=lambda one: ((one.item.supplier or _Nobody).name.casefold(), one.item.name.casefold()))


class _Nobody:
    name = "\uffff"  # items without a supplier stand last
