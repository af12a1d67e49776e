"""What somebody has to look after today: late, promised, waiting, ready, not started."""

from dataclasses import dataclass

from shop.lib.dates import today, week_of
from shop.orders.models import WorkOrder

MOST = 25  # of each; the rest is behind its link


@dataclass(frozen=True)
class Pile:
    """Some orders under one heading. `show` is the list's filter that shows all of them."""

    show: str
    orders: list
    count: int

    @property
    def more(self):
        return self.count - len(self.orders)


@dataclass(frozen=True)
class Office:
    today: object
    late: Pile
    week: Pile
    waiting: Pile
    ready: Pile
    not_started: Pile

    @classmethod
    def now(cls, person):
        """What `person` has to look after, in all their branches. Ten queries at most, whatever lies about."""
        day = today()
        orders = WorkOrder.objects.for_person(person).with_parties()
        _, sunday = week_of(day)
        return cls(
            day,
            _pile("late", orders.late(today=day)),
            _pile("week", orders.promised_between(day, sunday)),
            _pile("waiting", orders.waiting()),
            _pile("ready", orders.ready()),
            _pile("not-started", orders.not_started()),
        )


def _pile(show, orders):
    found = list(orders[: MOST + 1])
    if len(found) <= MOST:
        return Pile(show, found, len(found))
    return Pile(show, found[:MOST], orders.count())
