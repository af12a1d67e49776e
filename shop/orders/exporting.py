"""Orders as rows for a spreadsheet."""

from django.utils import timezone

from shop.staff.branching import several

HEADS = [
    "number", "state", "since", "reason", "customer", "telephone", "e-mail", "instrument", "serial", "complaint",
    "booked in", "promised", "collected", "rack",
]  # fmt: skip
AT_ONCE = 500


def heads():
    """The head of the table; the branch stands in it where there are several."""
    return [*HEADS, "branch"] if several() else HEADS


def rows(orders):
    """One row an order, read in pieces: the list may be long."""
    has_branch = several()
    for order in orders.iterator(chunk_size=AT_ONCE):
        yield [
            order.number, order.get_state_display(), _day(order.state_since), order.state_reason, order.customer.name,
            order.customer.phone, order.customer.email, str(order.instrument), order.instrument.serial,
            order.complaint, _day(order.booked_at), order.promised_on, _day(order.closed_at), order.rack_slot,
            *([order.branch.name] if has_branch else []),
        ]  # fmt: skip


def _day(moment):
    return timezone.localdate(moment).isoformat() if moment else ""
