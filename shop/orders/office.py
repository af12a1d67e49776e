"""What somebody has to look after today: late, promised, waiting, ready, not started."""

from dataclasses import dataclass

from django.db.models import Count, Value

from shop.lib.dates import today, week_of
from shop.lib.paging import picked
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

    @property
    def nothing_came_yet(self):
        """Whether no instrument has ever come in."""
        piles = (self.late, self.week, self.waiting, self.ready, self.not_started)
        return not any(pile.orders for pile in piles) and not WorkOrder.objects.exists()

    @classmethod
    def now(cls, person):
        """What `person` has to look after, in all their branches. Five queries at most, whatever lies about."""
        day = today()
        orders = WorkOrder.objects.for_person(person)
        _, sunday = week_of(day)
        asked = {
            "late": orders.late(today=day), "week": orders.promised_between(day, sunday), "waiting": orders.waiting(),
            "ready": orders.ready(), "not-started": orders.not_started(),
        }  # fmt: skip
        found = _by_promise(asked["late"], asked["week"], day) | {
            show: list(picked(asked[show], WorkOrder.objects.with_parties(), 0, MOST + 1))
            for show in ("waiting", "ready", "not-started")
        }
        counts = _counts({show: asked[show] for show, pile in found.items() if len(pile) > MOST})
        return cls(day, *(Pile(show, pile[:MOST], counts.get(show, len(pile))) for show, pile in found.items()))


def _by_promise(late, week, day):
    """The first of both piles, which lie one after the other, in one query."""
    # One of two lists rather than in one or the other: for "or" a server reads all customers, too.
    keys = [WorkOrder.objects.filter(pk__in=pile.values("pk")[: MOST + 1]).order_by() for pile in (late, week)]
    both = WorkOrder.objects.filter(pk__in=keys[0].values("pk").union(keys[1].values("pk")))
    both = both.with_parties().order_by("promised_on", "pk")
    found = {"late": [], "week": []}
    for order in both:
        found["late" if order.promised_on < day else "week"].append(order)
    return found


def _counts(piles):
    """{show: how many} of those piles that are too high to be shown whole. One query."""
    if not piles:
        return {}
    first, *rest = (
        pile.order_by().annotate(show=Value(show)).values("show").annotate(count=Count("pk"))
        for show, pile in piles.items()
    )
    return {row["show"]: row["count"] for row in first.union(*rest, all=True)}
