"""Customers as rows for a spreadsheet."""

from django.utils import timezone

HEADS = ("no.", "name", "firm", "telephone", "e-mail", "may be mailed", "address", "country", "on file since")
AT_ONCE = 500


def rows(customers):
    """One row a customer, read in pieces: the list may be long."""
    for one in customers.iterator(chunk_size=AT_ONCE):
        yield (
            one.pk, one.name, one.company, one.phone, one.email, "yes" if one.mail_agreed else "no", one.address,
            one.country, timezone.localdate(one.created_at),
        )  # fmt: skip
