"""The closed days to come as a list: its columns, its order, and its table for a spreadsheet."""

from shop.lib.dates import today
from shop.lib.sorting import Column, Sorting
from shop.orders.models import ClosedDays

CLOSED_COLUMNS = (Column("day", "Day", ("first", "pk")), Column("what", "What for", ("name", "first", "pk")))
CLOSED_HEADS = ("from", "to", "what for", "branch")


def closed_days(query):
    """(closed days from today on, sorting) as the address asks."""
    sorting = Sorting(CLOSED_COLUMNS, query.get("sort"), usual="day")
    found = ClosedDays.objects.filter(last__gte=today()).select_related("branch")
    return found.order_by(*sorting.order_by), sorting


def closed_rows(found):
    for one in found:
        yield one.first, one.last, one.name, str(one.branch or "")
