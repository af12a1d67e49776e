"""Walking along the shelf with a telephone: one item a card."""

from dataclasses import dataclass

from shop.stock.models import PriceItem


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


def first():
    """The key of the first item on the way, or None."""
    return PriceItem.objects.offered().on_shelf().in_place_order().values_list("pk", flat=True).first()


def walk_at(item):
    """The Walk at `item`; an item off the way (no longer offered) is a way of its own."""
    keys = list(PriceItem.objects.offered().on_shelf().in_place_order().values_list("pk", flat=True))
    if item.pk not in keys:
        return Walk(item, 1, 1, None, None)
    at = keys.index(item.pk)
    before = keys[at - 1] if at else None
    after = keys[at + 1] if at + 1 < len(keys) else None
    return Walk(item, at + 1, len(keys), before, after)
