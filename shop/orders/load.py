"""What the bench has promised, day by day, against the time it has."""

import itertools
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

from django.db.models import F, OuterRef, Subquery, Sum
from django.db.models.functions import Coalesce

from shop.lib.dates import today
from shop.orders.benchtime import BenchTime
from shop.orders.models import Line, WorkOrder

UNESTIMATED_MINUTES = 60  # an order whose lines carry no minutes still takes somebody's time; common practice
MOST_UNPROMISED = MOST_LATE = 40  # shown beside the days; the list of orders has them all
MOST_OF_DAY = 8  # shown of each day; the rest is behind its link


def with_minutes(orders):
    """Each order with `minutes`: what its lines that were not declined are estimated at, an hour where nothing is."""
    lines = Line.objects.filter(order=OuterRef("pk"), minutes__gt=0).exclude(agreement="declined").order_by()
    counted = Subquery(lines.values("order").values(total=Sum("minutes")))
    return orders.annotate(minutes=Coalesce(counted, UNESTIMATED_MINUTES))


def promised_minutes(*, until, branch=None):
    """All work still to do at one bench that is promised for `until` or earlier, also what is late. One query."""
    found = with_minutes(WorkOrder.objects.at(branch).to_do().filter(promised_on__lte=until))
    return sum(found.order_by().values_list("minutes", flat=True))


class Job(NamedTuple):
    """As much of an order as its day is reckoned from."""

    pk: int
    promised_on: date
    minutes: int


@dataclass(frozen=True)
class Promised:
    """Every job that is promised, in the order of its days; only those that are shown are fetched whole."""

    jobs: list
    by_day: dict

    @classmethod
    def until(cls, last, to_do):
        rows = to_do.filter(promised_on__lte=last).order_by("promised_on", "-priority", "pk")
        jobs = [Job(*row) for row in rows.values_list("pk", "promised_on", "minutes")]
        return cls(jobs, {day: list(some) for day, some in itertools.groupby(jobs, lambda one: one.promised_on)})

    def before(self, day):
        return itertools.takewhile(lambda one: one.promised_on < day, self.jobs)

    def first_of_days(self, whole, *, since):
        days = (jobs if day == whole else jobs[:MOST_OF_DAY] for day, jobs in self.by_day.items() if day >= since)
        return itertools.chain.from_iterable(days)

    @staticmethod
    def orders(jobs):
        """{key: the order with its `minutes`} of some jobs. One query."""
        minutes = {one.pk: one.minutes for one in jobs}
        found = WorkOrder.objects.with_parties().in_bulk(minutes)
        for pk, order in found.items():
            order.minutes = minutes[pk]
        return found


@dataclass(frozen=True)
class Day:
    day: date
    orders: tuple  # those that are shown
    count: int  # of all
    minutes: int  # of all
    room: int  # minutes the bench works
    closed: str
    promised_until: int  # minutes of all work promised up to this day's end
    room_until: int  # minutes the bench has from today to this day's end
    is_today: bool
    is_past: bool

    @property
    def more(self):
        return self.count - len(self.orders)

    @property
    def is_over(self):
        """Whether more is promised by this day's end than can be done, or something on a day without work."""
        return not self.is_past and bool(self.orders) and (self.promised_until > self.room_until or not self.room)

    @property
    def too_much(self):
        return max(self.promised_until - self.room_until, 0)

    @property
    def filled(self):
        """How much of the day's time is promised, 0 to 100, for the drawn bar."""
        return min(round(100 * self.minutes / self.room), 100) if self.room else (100 if self.orders else 0)


@dataclass(frozen=True)
class BenchCalendar:
    """`weeks` of seven Days each; `late` is promised for days before the first; `unpromised` has no day yet."""

    weeks: tuple
    late: tuple
    unpromised: tuple

    @property
    def first(self):
        return self.weeks[0][0].day

    @property
    def last(self):
        return self.weeks[-1][-1].day

    @property
    def before(self):
        return self.first - timedelta(weeks=len(self.weeks))

    @property
    def after(self):
        return self.last + timedelta(days=1)

    @property
    def has_more_late(self):
        return len(self.late) == MOST_LATE

    @property
    def days(self):
        return [day for week in self.weeks for day in week]

    @classmethod
    def of(cls, start, *, place, weeks=4, whole=None):
        """The weeks from that of `start` on at the bench of `place`, with all jobs of the day `whole` and the first of
        each other day. Five queries, however much is promised."""
        now, monday = today(), start - timedelta(days=start.weekday())
        last = monday + timedelta(weeks=weeks, days=-1)
        to_do = with_minutes(WorkOrder.objects.at(place.branch).to_do())
        promised = Promised.until(last, to_do)
        late = list(itertools.islice(promised.before(min(monday, now)), MOST_LATE))
        shown = promised.orders([*late, *promised.first_of_days(whole, since=monday)])
        bench = BenchTime.here(place, since=min(monday, now))
        unpromised = to_do.filter(promised_on=None).with_parties().order_by(F("booked_at"))[:MOST_UNPROMISED]
        days, wanted = [], sum(one.minutes for one in promised.before(monday))
        room = bench.minutes_between(now, monday - timedelta(days=1)) if now < monday else 0
        for number in range(weeks * 7):
            day = monday + timedelta(days=number)
            jobs = promised.by_day.get(day, ())
            orders, minutes = tuple(shown[one.pk] for one in jobs if one.pk in shown), sum(one.minutes for one in jobs)
            wanted += minutes
            room += bench.minutes_on(day) if day >= now else 0
            has, closed = bench.minutes_on(day), bench.closed_for(day)
            days.append(Day(day, orders, len(jobs), minutes, has, closed, wanted, room, day == now, day < now))
        in_weeks = tuple(tuple(days[n : n + 7]) for n in range(0, len(days), 7))
        return cls(in_weeks, tuple(shown[one.pk] for one in late), tuple(unpromised))
