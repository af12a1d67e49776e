"""When the bench can have a job done, from what it already carries."""

import math
from dataclasses import dataclass
from datetime import date

from shop.lib.dates import spoken_minutes, today, working_day_after
from shop.orders.models import Agreement, WorkOrder

UNESTIMATED_MINUTES = 60  # an order whose lines carry no minutes still takes somebody's time; common practice


@dataclass(frozen=True)
class Proposal:
    """`day` is the first working day by whose end everything before this job, and the job itself, can be done."""

    day: date
    minutes_before: int
    orders_before: int

    @property
    def sentence(self):
        if not self.orders_before:
            return "The bench is free."
        orders = f"{self.orders_before} order{'s' if self.orders_before > 1 else ''}"
        return f"The bench carries {spoken_minutes(self.minutes_before)} in {orders}."


def proposed(minutes, *, hours_a_day, now=None):
    """The Proposal for a job of `minutes`; three queries.

    The work of all orders still to do, agreed or only proposed, comes first; then this job, on working days of
    `hours_a_day` from the next one on. Common practice, no source.
    """
    to_do = WorkOrder.objects.to_do()
    orders = to_do.count()
    before = _minutes_of(to_do, orders)
    days = math.ceil((before + max(minutes, 0)) / (float(hours_a_day) * 60)) or 1
    return Proposal(working_day_after(now or today(), days), before, orders)


def _minutes_of(to_do, orders):
    answers = [Agreement.PROPOSED, Agreement.AGREED]
    estimated = to_do.filter(lines__minutes__gt=0, lines__agreement__in=answers).distinct().count()
    return to_do.minutes_estimated() + UNESTIMATED_MINUTES * (orders - estimated)
