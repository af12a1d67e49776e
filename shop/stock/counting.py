"""Walking along the shelf with a telephone: one item a card."""

from dataclasses import dataclass

from shop.stock.models import PriceItem
from shop.stock.shelves import as_kept_at, is_first


@dataclass(frozen=True)
class Walk:
    """Where somebody stands on the way along the shelf. `position` counts from 1."""

    item: PriceItem
    position: int
    of: int
    before: int | None
    after: int | None

    @property
    def share(self):
        return round(100 * self.position / self.of) if self.of else 0


def first(branch=None):
    """The key of the first item on the way along the shelf of `branch`, or None."""
    return next(iter(_way(branch)), None)


def _way(branch):
    """The keys of all items in the order in which they lie there."""
    items = PriceItem.objects.offered().on_shelf().in_place_order()
    if is_first(branch):
        return list(items.values_list("pk", flat=True))
    return [item.pk for item in sorted(as_kept_at(items, branch), key=lambda item: (item.place, item.name, item.pk))]


def walk_at(item, branch=None):
    """The Walk at `item`; an item off the way (no longer offered) is a way of its own."""
    keys = _way(branch)
    if item.pk not in keys:
        return Walk(item, 1, 1, None, None)
    at = keys.index(item.pk)
    before = keys[at - 1] if at else None
    after = keys[at + 1] if at + 1 < len(keys) else None
    return Walk(item, at + 1, len(keys), before, after)
