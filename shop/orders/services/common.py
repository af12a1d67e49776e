"""What every service of an order begins and ends with."""

from django.utils import timezone

from shop.orders.models import Event, Hold, WorkOrder
from shop.orders.states import CLOSED, State
from shop.staff import audit

LONGEST_TEXT = 1000
# What stands in the workshop's record as well as in the order's history.
ON_RECORD = {
    "payment": audit.AuditKind.MONEY,
    "invoice_issued": audit.AuditKind.MONEY,
    "credited": audit.AuditKind.MONEY,
    "discount": audit.AuditKind.MONEY,
    "line_removed": audit.AuditKind.DELETION,
    "mark_removed": audit.AuditKind.DELETION,
    "photo_removed": audit.AuditKind.DELETION,
}


class NotAllowed(Exception):
    """A move or change that the order's state forbids. The message is a sentence for people."""


def note(order, *, by, what, text, **data):
    """Write one line of history; what concerns money or takes something away goes into the record, too."""
    if what in ON_RECORD:
        audit.write(ON_RECORD[what], f"{order.number}: {text}", by=by)
    return Event.objects.create(
        order=order, at=timezone.now(), by=by, what=what, text=text[:LONGEST_TEXT], data=data
    )


def locked(order):
    """The order as it stands now, locked until the transaction ends."""
    return WorkOrder.objects.select_for_update().get(pk=order.pk)


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
    if order.state in CLOSED:
        raise NotAllowed(f"The order is {State(order.state).label}; its lines stay as they are.")
