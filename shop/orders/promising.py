"""When the bench can have a job done, from what it already carries."""

from dataclasses import dataclass
from datetime import date

from shop.lib.dates import spoken_minutes, today
from shop.lib.opening import Opening, week_of
from shop.orders.benchtime import BenchTime
from shop.orders.load import UNESTIMATED_MINUTES, promised_minutes
from shop.orders.models import Agreement, WorkOrder


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


@dataclass(frozen=True)
class Carried:
    """What the bench carries at `now`, and when it works: what every promise is reckoned from."""

    now: date
    minutes: int
    orders: int
    bench: BenchTime
    opening: Opening  # when the customer can come for it

    @classmethod
    def here(cls, place, *, now=None):
        """At the bench of `place`, the workshop or one branch of it. Five queries."""
        now = now or today()
        to_do = WorkOrder.objects.at(place.branch).to_do()
        orders = to_do.count()
        bench = BenchTime.here(place, since=now)
        return cls(now, _minutes_of(to_do, orders), orders, bench, Opening(week_of(place.opening_hours), bench.closed))

    def proposal(self, minutes):
        """The Proposal for a job of `minutes`.

        The work of all orders still to do, agreed or only proposed, comes first; then this job, from the next day on,
        as many minutes a day as the bench works, and then the next day on which the workshop is open. Common practice,
        no source.
        """
        day = self.bench.day_when_done(self.minutes + max(minutes, 0), after=self.now)
        return Proposal(self.opening.open_day(day) or day, self.minutes, self.orders)


def _minutes_of(to_do, orders):
    answers = [Agreement.PROPOSED, Agreement.AGREED]
    estimated = to_do.filter(lines__minutes__gt=0, lines__agreement__in=answers).distinct().count()
    return to_do.minutes_estimated() + UNESTIMATED_MINUTES * (orders - estimated)


def overload(day, *, place, minutes=0, now=None, bench=None):
    """A sentence when more is promised by the end of `day` than the bench can do until then; '' when it fits.

    `place` is the workshop, or one branch of it. `minutes` are those of a job that is not promised yet. Three queries,
    one where the `bench` is known.
    """
    now = now or today()
    if day is None or day < now:
        return ""
    bench = bench or BenchTime.here(place, since=now)
    room, wanted = bench.minutes_between(now, day), promised_minutes(until=day, branch=place.branch) + minutes
    closed = bench.closed_for(day)
    if closed:
        return f"The bench is closed that day: {closed}."
    if not bench.minutes_on(day):
        return "Nobody works at the bench on that day."
    if wanted <= room:
        return ""
    return f"Too much by then: {spoken_minutes(wanted)} are promised, and the bench has {spoken_minutes(room)}."
