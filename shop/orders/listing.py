"""The list of orders as its address asks for it: which, in what order, found by what."""

from dataclasses import dataclass

from django.db.models import F

from shop.lib.dates import today, week_of
from shop.orders.models import WorkOrder
from shop.orders.states import State

SORTS = {
    "newest": ("-booked_at", "-pk"),
    "oldest": ("booked_at", "pk"),
    "promise": (F("promised_on").asc(nulls_last=True), "pk"),
    "number": ("number",),
    "customer": ("customer__name", "pk"),
}


def _this_week(orders):
    return orders.promised_between(*week_of(today()))


# What people ask for in one word; each is a question that the set of orders answers.
ASKED = {
    "open": ("Open", lambda orders: orders.open()),
    "late": ("Late", lambda orders: orders.late(today=today())),
    "week": ("Promised this week", _this_week),
    "waiting": ("Waiting", lambda orders: orders.waiting()),
    "ready": ("Ready, not collected", lambda orders: orders.ready()),
    "all": ("All", lambda orders: orders),
}


@dataclass(frozen=True)
class Asked:
    """What the address asks for; anything it does not know falls back to what is usual."""

    show: str
    state: str
    sort: str
    sought: str

    @classmethod
    def of(cls, query):
        show, state, sort = (query.get(name, "") for name in ("show", "state", "sort"))
        return cls(
            show=show if show in ASKED else "all" if query.get("q") or state in State.values else "open",
            state=state if state in State.values else "",
            sort=sort if sort in SORTS else "",
            sought=query.get("q", "").strip()[:100],
        )

    @property
    def orders(self):
        """The orders asked for, with customer and instrument at hand."""
        found = ASKED[self.show][1](WorkOrder.objects.all())
        if self.state:
            found = found.filter(state=self.state)
        if self.sought:
            found = found.matching(self.sought)
        return (found.order_by(*SORTS[self.sort]) if self.sort else found).with_parties()
