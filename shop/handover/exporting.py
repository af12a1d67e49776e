"""Mails as rows for a spreadsheet."""

from django.utils import timezone

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


def _moment(at):
    return f"{timezone.localtime(at):%Y-%m-%d %H:%M}" if at else ""
