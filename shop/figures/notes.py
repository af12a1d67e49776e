"""Reads the notes that the database left about changed rows: which months of which question they touch."""

from collections import defaultdict
from datetime import UTC, date, datetime, time, timedelta
from functools import reduce
from operator import or_

from django.db import connection
from django.db.models import F, Q

from shop.billing.models import Invoice
from shop.figures.models import Question, Touched
from shop.figures.sums import BACK_WITHIN
from shop.figures.watching import INSTRUMENT, ORDER, SHEET
from shop.orders.models import WorkOrder
from shop.worksheets.models import Worksheet

TAKE = f"DELETE FROM {Touched._meta.db_table} RETURNING question, thing, key, day"  # noqa: S608 (our own name)
DAY = timedelta(days=1)
AT_ONCE = 200  # things that one question of the database is about


def take():
    """{question: the (year, month)s whose rows have changed}, and the notes are gone. Within a transaction."""
    with connection.cursor() as cursor:
        cursor.execute(TAKE)
        notes = set(cursor.fetchall())
    days = defaultdict(set)
    things = defaultdict(set)
    for question, thing, key, day in notes:
        if thing:
            things[question, thing].add((key, _day(day)))
        else:
            days[question].add(_day(day))
    for (question, thing), found in things.items():
        for some in _in_parts(sorted(found, key=str)):
            days[question].update(LOOK[question, thing](some))
    # Which month a day of UTC belongs to depends on the zone: at the edges it counts for both.
    return {
        question: {(one.year, one.month) for day in found if day for one in (day - DAY, day, day + DAY)}
        for question, found in days.items()
    }


def _in_parts(found):
    return [found[start : start + AT_ONCE] for start in range(0, len(found), AT_ONCE)]


def _day(found):
    """SQLite's answer to a question of our own is a text."""
    return date.fromisoformat(found) if isinstance(found, str) else found


def _days(moments):
    return {moment.astimezone(UTC).date() for moment in moments if moment}


def _keys(some):
    return [key for key, _ in some]


def _from(day, *, later=timedelta(0)):
    return datetime.combine(day, time.min, tzinfo=UTC) + later


def _invoiced(orders):
    return set(Invoice.objects.issued().filter(order__in=_keys(orders)).values_list("issued_on", flat=True))


def _signed(orders):
    sheets = Worksheet.objects.filter(order__in=_keys(orders), signed_at__isnull=False)
    return _days(sheets.values_list("signed_at", flat=True))


def _collected_before(instruments):
    """When the instruments that came back on these days had been collected."""
    each = (
        Q(instrument=key, closed_at__gte=_from(day, later=-BACK_WITHIN), closed_at__lt=_from(day + DAY))
        for key, day in instruments
    )
    return _days(WorkOrder.objects.filter(reduce(or_, each)).values_list("closed_at", flat=True))


def _read_on(instruments):
    """When the instruments were read as received."""
    sheets = Worksheet.objects.filter(order__instrument__in=_keys(instruments))
    return _days(sheets.values_list("started_at", flat=True))


def _read_since(orders):
    """The same for the instruments of orders, from the day on that stands beside each."""
    each = (Q(order__instrument__orders=key, started_at__gte=_from(day)) for key, day in orders)
    sheets = Worksheet.objects.filter(reduce(or_, each), order__instrument__orders__in=_keys(orders))
    return _days(sheets.values_list("started_at", flat=True))


def _read_after(sheets):
    """The same for the instruments of worksheets, from when each was begun."""
    later = Worksheet.objects.filter(
        order__instrument__orders__worksheets__in=_keys(sheets),
        started_at__gte=F("order__instrument__orders__worksheets__started_at"),
    )  # fmt: skip
    return _days(later.values_list("started_at", flat=True))


LOOK = {
    (Question.TURNAROUND, ORDER): _invoiced,
    (Question.ESTIMATED, ORDER): _signed,
    (Question.SPENT, ORDER): _signed,
    (Question.RETURNS, INSTRUMENT): _collected_before,
    (Question.DRIFT, INSTRUMENT): _read_on,
    (Question.DRIFT, ORDER): _read_since,
    (Question.DRIFT, SHEET): _read_after,
}
