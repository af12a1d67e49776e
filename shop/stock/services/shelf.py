"""What comes to the shelf and what leaves it."""

import uuid
from dataclasses import dataclass
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from shop.lib import money
from shop.staff.branching import several, whose
from shop.stock.levels import on_hand
from shop.stock.models import MOST, Movement, MovementKind, PriceItem
from shop.stock.shelves import for_writing


class NotAllowed(Exception):
    """The message is a sentence for people."""


@dataclass(frozen=True)
class Outcome:
    """The movement, and what is on hand after it. `warning` is a sentence when that is below zero, or ''."""

    movement: Movement
    on_hand: Decimal

    @property
    def warning(self):
        if self.on_hand >= 0:
            return ""
        item = self.movement.item
        return (
            f"On file there are now {money.quantity(self.on_hand)} of “{item}”. "
            "Count it, or write down what came in; the work goes on meanwhile."
        )


@transaction.atomic
def receive(item, quantity, *, by, branch=None, cost=None, note="", key=None):
    """`quantity` came in, at `cost` each where it is known; that becomes the item's cost. Less is on order then."""
    held, branch = _held(item), whose(branch)
    outcome = _move(held, branch, MovementKind.RECEIVED, _some(quantity), by=by, note=note, key=key, cost=cost)
    if outcome.is_new:
        held.cost = held.cost if cost is None else cost
        held.save(update_fields=["cost"])
        coming = for_writing(held, branch if several() else None)
        coming.on_order = max(Decimal(0), coming.on_order - quantity)
        coming.ordered_on = coming.ordered_on if coming.on_order else None
        coming.save(update_fields=["on_order", "ordered_on"])
    return outcome.told


@transaction.atomic
def send_back(item, quantity, *, by, branch=None, note="", key=None):
    """`quantity` goes back to the supplier, `note` says why."""
    if not note.strip():
        raise NotAllowed("Say why it goes back.")
    return _move(_held(item), whose(branch), MovementKind.SENT_BACK, -_some(quantity), by=by, note=note, key=key).told


@transaction.atomic
def send_on(item, quantity, *, by, branch, to, note="", key=None):
    """`quantity` goes from the shelf of `branch` to that of `to`: two movements, or none. The Outcome where it left."""
    if branch == to:
        raise NotAllowed("It lies there already; choose another branch.")
    if not to.is_active:
        raise NotAllowed(f"{to} is closed.")
    held, key, note = _held(item), key or uuid.uuid4(), f": {note.strip()}" if note.strip() else ""
    left = _move(held, branch, MovementKind.SENT_ON, -_some(quantity), by=by, key=key, note=f"to {to}{note}"[:200])
    came = uuid.uuid5(key, "came on")
    _move(held, to, MovementKind.CAME_ON, quantity, by=by, key=came, note=f"from {branch}{note}"[:200])
    return left.told


@transaction.atomic
def count(item, found, *, by, branch=None, note="", key=None):
    """`found` lie on the shelf: the difference is written down, also when there is none."""
    if not 0 <= found <= MOST:
        raise NotAllowed("Write how many there are, 0 or more.")
    held, branch = _held(item), whose(branch)
    difference = found - on_hand(held, branch)
    return _move(held, branch, MovementKind.COUNTED, difference, by=by, note=note, key=key, counted=found).told


@transaction.atomic
def use(item, quantity, *, order_number, line_key, by, branch=None, key=None):
    """`quantity` leaves the shelf for a line of an order. Less than nothing on hand is told, not refused."""
    return _move(
        _held(item), whose(branch), MovementKind.USED, -_some(quantity), by=by, key=key, order_number=order_number,
        line_key=line_key,
    ).told  # fmt: skip


@transaction.atomic
def put_back(item, quantity, *, order_number, line_key, by, branch=None, key=None):
    """`quantity` comes back to the shelf from a line of an order."""
    return _move(
        _held(item), whose(branch), MovementKind.RETURNED, _some(quantity), by=by, key=key, order_number=order_number,
        line_key=line_key,
    ).told  # fmt: skip


def taken_for(line_keys):
    """{line key: how much of its item has left the shelf for it}."""
    taken = {}
    rows = Movement.objects.filter(line_key__in=line_keys).values_list("line_key", "quantity")
    for line_key, quantity in rows:
        taken[line_key] = taken.get(line_key, Decimal(0)) - quantity
    return taken


@dataclass(frozen=True)
class _Moved:
    told: Outcome
    is_new: bool


def _held(item):
    """The item as it stands, locked: two who take the last one at once are both counted, one after the other."""
    return PriceItem.objects.select_for_update().get(pk=item.pk)


def _some(quantity):
    if not 0 < quantity <= MOST:
        raise NotAllowed("Write how many, more than 0.")
    return quantity


def _move(item, branch, kind, quantity, *, by, key=None, **fields):
    if not item.is_on_shelf:
        raise NotAllowed(f"“{item}” is work; it lies on no shelf.")
    key = key or uuid.uuid4()
    before = Movement.objects.filter(key=key).select_related("item").first()
    if before:  # the same press of the button came twice
        return _Moved(Outcome(before, on_hand(before.item, branch)), is_new=False)
    after = on_hand(item, branch) + quantity
    if fields.get("cost") is None:
        fields["cost"] = item.cost
    made = Movement.objects.create(
        item=item, branch=branch, kind=kind, quantity=quantity, after=after, key=key, at=timezone.now(), by=by, **fields
    )
    return _Moved(Outcome(made, after), is_new=True)
