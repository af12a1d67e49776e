"""An order goes on to another branch; and whether a branch can be closed."""

from django.db import transaction

from shop.orders.models import WorkOrder
from shop.orders.services.common import NotAllowed, locked, note
from shop.staff.models import Branch


@transaction.atomic
def move_to_branch(order, branch, *, by, reason=""):
    """The order, and the work still to do on it, are another branch's from now on. Its number and papers stay.

    It leaves its place on the rack. Raises NotAllowed for the branch it is in, and for one that is closed.
    """
    held = locked(order)
    if held.branch_id == branch.pk:
        raise NotAllowed(f"It is in {branch} already.")
    if not branch.is_active:
        raise NotAllowed(f"{branch} is closed.")
    before, held.branch, held.rack_slot = held.branch, branch, ""
    held.save(update_fields=["branch", "rack_slot"])
    reason = " ".join(reason.split())[:300]
    text = f"Branch: {before} → {branch}" + (f": {reason}" if reason else ".")
    note(held, by=by, what="branch_changed", text=text, was=before.pk, now=branch.pk)
    return held


def taken_in_at(order):
    """The branch whose counter took `order` in, wherever it went since."""
    moved = order.events.filter(what="branch_changed").first()
    first = moved and Branch.objects.filter(pk=moved.data["was"]).first()
    return first or order.branch  # one that is gone again speaks on no paper


def keeps_open(branch):
    """Why `branch` cannot be closed yet, a sentence; '' when all its orders are collected."""
    count = WorkOrder.objects.filter(branch=branch).open().count()
    if not count:
        return ""
    orders = "One order is" if count == 1 else f"{count} orders are"
    return f"{orders} still open in {branch}; finish them, or move them to another branch."
