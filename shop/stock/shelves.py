"""Where the shelf of each branch keeps what it says of an item: place, marks, and what is on its way.

The first branch's stand on the item itself, so that a workshop with one shelf reads one row; others have a row of
their own once they say something.
"""

import copy

from shop.staff.models import Branch
from shop.stock.models import OtherShelf, PriceItem

OWN = ("place", "reorder_at", "order_up_to", "on_order", "ordered_on")


def is_first(branch):
    """Whether `branch`, or none where there is only one, keeps what it says on the items themselves."""
    return branch is None or branch == Branch.first()


def as_kept_at(items, branch):
    """`items` as the shelf of `branch` keeps them, in their order: copies that are only read. Two queries at most."""
    if is_first(branch):
        return list(items)
    rows = {row.item_id: row for row in OtherShelf.objects.filter(branch=branch)}
    return [_kept(item, rows.get(item.pk)) for item in items]


def _kept(item, row):
    kept, row = copy.copy(item), row or OtherShelf()
    for name in OWN:
        setattr(kept, name, getattr(row, name))
    return kept


def for_writing(item, branch):
    """The row on which `branch` writes what is on its way, made when there is none. The item is locked already."""
    if is_first(branch):
        return item
    return OtherShelf.objects.get_or_create(item=item, branch=branch)[0]


def on_its_way(branch):
    """Items of which something was sent for by `branch` and has not come yet, the longest ago first."""
    items = PriceItem.objects.select_related("supplier")
    if is_first(branch):
        return list(items.filter(on_order__gt=0).order_by("ordered_on", "name"))
    coming = OtherShelf.objects.filter(branch=branch, on_order__gt=0).order_by("ordered_on", "item__name")
    return as_kept_at([row.item for row in coming.select_related("item__supplier")], branch)
