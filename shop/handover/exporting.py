"""Mails, and addresses that get none, as rows for a spreadsheet."""

from django.db.models import F
from django.utils import timezone

from shop.handover.models import SilencedAddress
from shop.lib.sorting import Column, Sorting

HEADS = ("written", "subject", "to", "customer", "order", "state", "sent", "attempts", "what went wrong")
AT_ONCE = 500


def rows(mails):
    """One row a mail, read in pieces: the list may be long."""
    for one in mails.iterator(chunk_size=AT_ONCE):
        yield (
            _moment(one.queued_at), one.subject, one.to, one.customer.name if one.customer else "",
            one.order.number if one.order else "", one.get_state_display(), _moment(one.sent_at), one.attempts,
            one.last_error,
        )  # fmt: skip


SILENCED_COLUMNS = (
    Column("address", "Address", ("address",)), Column("why", "Why", ("reason", "pk")),
    Column("since", "Since", ("since", "pk"), down=True),
    Column("by", "By", (F("by__shown_name").asc(nulls_last=True), "pk")),
)  # fmt: skip
SILENCED_HEADS = ("address", "why", "since", "by")


def silenced(query):
    """(addresses that nothing is sent to, sorting) as the address of the page asks."""
    sorting = Sorting(SILENCED_COLUMNS, query.get("sort"), usual="-since")
    return SilencedAddress.objects.select_related("by").order_by(*sorting.order_by), sorting


def silenced_rows(found):
    for one in found.iterator(chunk_size=AT_ONCE):
        yield one.address, one.reason, _moment(one.since), str(one.by or "")


def _moment(at):
    return f"{timezone.localtime(at):%Y-%m-%d %H:%M}" if at else ""
