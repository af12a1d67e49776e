"""The next number of a series: unique and gapless, because it is taken in the transaction that uses it."""

from django.db import connection, transaction

from shop.staff.models import Series


def next_counted(key, branch):
    """The next number of the branch's series as it is written: its mark, if it has one, and the count."""
    return f"{branch.mark}{next_number(key, branch):04d}"


def next_number(key, branch):
    """The next whole number of the branch's series `key`, from 1.

    Must be called inside a transaction: a roll-back gives the number back, so the series has no gaps,
    and the row stays locked until the commit, so no two callers get the same one.
    """
    if not connection.in_atomic_block:
        raise transaction.TransactionManagementError("A number is only taken inside the transaction that uses it.")
    Series.objects.get_or_create(key=key, branch=branch)
    row = Series.objects.select_for_update().get(key=key, branch=branch)
    row.last += 1
    row.save(update_fields=["last"])
    return row.last
