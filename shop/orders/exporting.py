"""Orders as rows for a spreadsheet."""

from django.utils import timezone

HEADS = [
    "number", "state", "since", "reason", "customer", "telephone", "e-mail", "instrument", "serial", "complaint",
    "booked in", "promised", "collected", "rack",
]  # fmt: skip
AT_ONCE = 500


def rows(orders):
    """One row an order, read in pieces: the list may be long."""
    for order in orders.iterator(chunk_size=AT_ONCE):
        yield [
            order.number, order.get_state_display(), _day(order.state_since), order.state_reason, order.customer.name,
            order.customer.phone, order.customer.email, str(order.instrument), order.instrument.serial,
            order.complaint, _day(order.booked_at), order.promised_on, _day(order.closed_at), order.rack_slot,
        ]  # fmt: skip


def _day(moment):
    return timezone.localdate(moment).isoformat() if moment else ""
