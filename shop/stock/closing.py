"""The shelf of a branch that is to be closed: what lies there goes to another branch first."""

import uuid

from django.db import transaction

from shop.stock.levels import lies_at
from shop.stock.models import PriceItem
from shop.stock.services import send_on
from shop.stock.shelves import on_its_way

MOST_NAMED = 3


def lying_at(branch):
    """{item's key: how many} of all that is not nothing on the shelf of `branch`, below zero included."""
    return dict(PriceItem.objects.order_by().annotate(lies=lies_at(branch)).exclude(lies=0).values_list("pk", "lies"))


def keeps_open(branch):
    """Why `branch` cannot be closed yet for what its shelf holds or waits for, a sentence; '' when neither."""
    return " ".join(filter(None, (_lies(branch), _comes(branch))))


def _lies(branch):
    items = PriceItem.objects.filter(pk__in=lying_at(branch)).order_by("name")
    if not items:
        return ""
    return f"On its shelf there is still {_named(items)}; send it to another branch, or count it."


def _comes(branch):
    items = on_its_way(branch)
    if not items:
        return ""
    return f"On its way there is still {_named(items)}; receive it, or say that it was not sent for."


def _named(items):
    names = ", ".join(f"“{item}”" for item in items[:MOST_NAMED])
    more = len(items) - MOST_NAMED
    return f"{names} and {more} more" if more > 0 else names


@transaction.atomic
def send_all_on(branch, to, *, by, key=None):
    """Everything on the shelf of `branch` goes to that of `to`, two movements an item. Returns how many items went.

    What is below zero on file stays, to be counted. Raises NotAllowed when `to` cannot take it.
    """
    key = key or uuid.uuid4()
    # Locked before it is added up, so that nothing that is taken meanwhile goes across as well.
    items = list(PriceItem.objects.select_for_update().filter(pk__in=lying_at(branch)).order_by("pk"))
    held = lying_at(branch)
    going = [item for item in items if held.get(item.pk, 0) > 0]
    for item in going:
        send_on(item, held[item.pk], by=by, branch=branch, to=to, key=uuid.uuid5(key, str(item.pk)),
                note=f"the whole shelf of {branch}")  # fmt: skip
    return len(going)
