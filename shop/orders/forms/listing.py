"""What the list of orders is asked for, kept in its address."""

from django import forms
from django.db.models import F

from shop.lib.dates import today, week_of
from shop.orders.models import WorkOrder
from shop.orders.states import State

SHOWS = {
    "open": "in the workshop", "late": "late", "week": "promised this week", "waiting": "waiting",
    "ready": "ready, not collected", "not-started": "nothing agreed yet", "bench": "at the bench", "all": "all",
}  # fmt: skip
SORTS = {
    "newest": ("newest first", ("-booked_at", "-pk")),
    "oldest": ("oldest first", ("booked_at", "pk")),
    "promised": ("by promise", (F("promised_on").asc(nulls_last=True), "pk")),
    "since": ("longest in its state", ("state_since", "pk")),
    "customer": ("by customer", ("customer__name", "pk")),
    "number": ("by number", ("number",)),
}


class ListForm(forms.Form):
    q = forms.CharField(label="number, customer or instrument", required=False, max_length=100)
    show = forms.ChoiceField(required=False, choices=list(SHOWS.items()))
    state = forms.ChoiceField(required=False, choices=[("", "any"), *State.choices])
    sort = forms.ChoiceField(label="order", required=False, choices=[(key, label) for key, (label, _) in SORTS.items()])

    def found(self):
        """The orders that are asked for; what is nonsense in the address counts as not asked."""
        self.is_valid()
        asked = self.cleaned_data
        orders = _SHOWN[asked.get("show") or ("all" if asked.get("q") else "open")](WorkOrder.objects.all())
        if asked.get("state"):
            orders = orders.filter(state=asked["state"])
        if asked.get("q"):
            orders = orders.matching(asked["q"])
        return orders.order_by(*SORTS[asked.get("sort") or "newest"][1])

    @property
    def shown_as(self):
        """The show that holds, also where the address names none."""
        asked = getattr(self, "cleaned_data", {})
        return asked.get("show") or ("all" if asked.get("q") else "open")


_SHOWN = {
    "open": lambda orders: orders.open(),
    "late": lambda orders: orders.late(today=today()),
    "week": lambda orders: orders.promised_between(*week_of(today())),
    "waiting": lambda orders: orders.waiting(),
    "ready": lambda orders: orders.ready(),
    "not-started": lambda orders: orders.not_started(),
    "bench": lambda orders: orders.at_bench(),
    "all": lambda orders: orders,
}
