"""What somebody has to look after today: late, promised, waiting, ready, not started."""

from dataclasses import dataclass

from django.db.models import Count, Value

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
        """What `person` has to look after, in all their branches. Six queries at most, whatever lies about."""
        day = today()
        orders = WorkOrder.objects.for_person(person)
        _, sunday = week_of(day)
        asked = {
            "late": orders.late(today=day), "week": orders.promised_between(day, sunday), "waiting": orders.waiting(),
            "ready": orders.ready(), "not-started": orders.not_started(),
        }  # fmt: skip
        found = {show: list(pile.with_parties()[: MOST + 1]) for show, pile in asked.items()}
        counts = _counts({show: asked[show] for show, pile in found.items() if len(pile) > MOST})
        return cls(day, *(Pile(show, pile[:MOST], counts.get(show, len(pile))) for show, pile in found.items()))


def _counts(piles):
    """{show: how many} of those piles that are too high to be shown whole. One query."""
    if not piles:
        return {}
    first, *rest = (
        pile.order_by().annotate(show=Value(show)).values("show").annotate(count=Count("pk"))
        for show, pile in piles.items()
    )
    return {row["show"]: row["count"] for row in first.union(*rest, all=True)}
