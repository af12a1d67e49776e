"""How many minutes the bench works on each day: hours of the weekday, none on closed days."""

from dataclasses import dataclass
from datetime import timedelta

from django.db.models import F, Q

from shop.lib.dates import FARTHEST_DAYS, SATURDAY
from shop.orders.models import BenchHours, ClosedDays


@dataclass(frozen=True)
class BenchTime:
    """`by_weekday` are minutes from Monday on; `closed` are (first day, last day, what for)."""

    by_weekday: tuple
    closed: tuple = ()

    @classmethod
    def here(cls, place, *, since):
        """As the workshop, or the branch of `place`, has set it; from Monday to Friday as many hours as its details say
        where nothing else is said. Two queries.
        """
        hours_a_day = place.bench_hours_a_day
        own = Q() if place.branch is None else Q(branch=None) | Q(branch=place.branch)
        # What a branch has said itself comes last, and holds.
        said = BenchHours.objects.filter(own).order_by(F("branch").asc(nulls_first=True))
        said = dict(said.values_list("weekday", "hours"))
        usual = [hours_a_day if weekday < SATURDAY else 0 for weekday in range(7)]
        by_weekday = tuple(int(said.get(weekday, usual[weekday]) * 60) for weekday in range(7))
        closed = ClosedDays.objects.filter(own, last__gte=since).values_list("first", "last", "name")
        return cls(by_weekday, tuple(closed))

    def minutes_on(self, day):
        return 0 if self.closed_for(day) else self.by_weekday[day.weekday()]

    def closed_for(self, day):
        """What the bench is closed for on `day`, or ''."""
        return next((name for first, last, name in self.closed if first <= day <= last), "")

    def minutes_between(self, first, last):
        """Both days included."""
        return sum(self.minutes_on(first + timedelta(days=n)) for n in range((last - first).days + 1))

    def day_when_done(self, minutes, *, after):
        """The first day after `after` by whose end `minutes` of work can be done; at least one day is worked."""
        day, left = after, max(minutes, 1)
        for _ in range(FARTHEST_DAYS):
            day += timedelta(days=1)
            left -= self.minutes_on(day)
            if left <= 0:
                break
        return day
