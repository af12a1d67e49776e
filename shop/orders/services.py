"""What is done to a work order. Each function is one transaction and writes the event that says who did what."""

from django.db import transaction
from django.utils import timezone

from shop.orders.models import Event, Hold, WorkOrder
from shop.orders.states import CLOSED, NEED_REASON, RESERVED, State, may_move


class NotAllowed(Exception):
    """A move or change that the order's state forbids. The message is a sentence for people."""


def note(order, *, by, what, text, **data):
    """Write one line of history."""
    return Event.objects.create(order=order, at=timezone.now(), by=by, what=what, text=text[:1000], data=data)


def locked(order):
    """The order as it stands now, locked until the transaction ends."""
    return WorkOrder.objects.select_for_update().get(pk=order.pk)


@transaction.atomic
def move(order, to, *, by, reason="", own=False):
    """Move `order` to state `to`, or raise NotAllowed.

    `own` is said only by the room that a reserved move belongs to (worksheets: checked; handover: ready, collected).
    """
    now_order = locked(order)
    to = State(to)
    come_from = State(now_order.state)
    _guard(now_order, come_from, to, reason, own)
    now_order.state = to
    now_order.state_since = timezone.now()
    now_order.closed_at = now_order.state_since if to in CLOSED else None
    now_order.save(update_fields=["state", "state_since", "closed_at"])
    text = f"{come_from.label.capitalize()} → {to.label}" + (f": {reason}" if reason else ".")
    note(now_order, by=by, what="moved", text=text, come_from=come_from.value, go_to=to.value, reason=reason)
    order.refresh_from_db()
    return order


def _guard(order, come_from, to, reason, own):
    if not may_move(come_from, to):
        raise NotAllowed(f"An order that is {come_from.label} cannot become {to.label}.")
    if to in RESERVED and not own:
        raise NotAllowed(f"An order becomes {to.label} only through its own page.")
    if to in NEED_REASON and not reason.strip():
        raise NotAllowed(f"Say why it is {to.label}.")
    held = order.holds.filter(lifted_at=None).first()
    if to in (State.CHECKED, State.READY) and held:
        raise NotAllowed(f"Something still holds this order: {held.reason}.")
    if to == State.ON_BENCH and come_from == State.AGREED and not order.lines.exists():
        raise NotAllowed("Write down what is to be done before the work begins.")


def hold(order, *, key, reason):
    """Keep `order` from being checked until `lift` is called with the same key."""
    return Hold.objects.get_or_create(
        order=order, key=key, lifted_at=None, defaults={"reason": reason, "since": timezone.now()}
    )[0]


def lift(order, *, key):
    order.holds.filter(key=key, lifted_at=None).update(lifted_at=timezone.now())


def fix_lines(order, because):
    """From now on the order's lines stay as they are; `because` names the paper that froze them. '' frees them."""
    WorkOrder.objects.filter(pk=order.pk).update(lines_fixed_by=because)
    order.lines_fixed_by = because


def need_open_lines(order):
    """Raise NotAllowed when the order's lines are fixed. Whatever adds, changes or removes a line calls this first."""
    if order.lines_fixed_by:
        raise NotAllowed(f"The lines are fixed by {order.lines_fixed_by}; a credit note frees them.")
