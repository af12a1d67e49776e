"""What the list of orders is asked for, kept in its address."""

from django import forms
from django.db.models import F, Value
from django.db.models.functions import NullIf
from django.utils.functional import cached_property

from shop.instruments.models import Instrument
from shop.lib import parts
from shop.lib.dates import today, week_of
from shop.lib.keys import KeyField
from shop.lib.sorting import Column, Sorting
from shop.orders.models import WorkOrder
from shop.orders.states import OPEN, State
from shop.people.models import Customer
from shop.staff.branch_forms import OfBranches

SHOWS = {
    "open": "in the workshop", "late": "late", "week": "promised this week", "waiting": "waiting",
    "ready": "ready, not collected", "not-started": "nothing agreed yet", "bench": "at the bench", "all": "all",
}  # fmt: skip
OF_ONE = {"customer": Customer, "instrument": Instrument}
COLUMNS = (
    Column("number", "Number", ("number",)), Column("what", "Instrument"),
    Column("customer", "Customer", ("customer__name", "pk"), narrow=True),
    Column("booked", "Booked in", ("booked_at", "pk"), down=True),
    Column("promised", "Promised", (F("promised_on").asc(nulls_last=True), "pk"), narrow=True),
    Column("rack", "Rack", (NullIf("rack_slot", Value("")).asc(nulls_last=True), "pk"), narrow=True),
    Column("since", "State", ("state_since", "pk"), narrow=True),
)  # fmt: skip


class ListForm(OfBranches):
    q = forms.CharField(label="number, customer or instrument", required=False, max_length=100)
    show = forms.ChoiceField(required=False, choices=list(SHOWS.items()))
    state = forms.ChoiceField(required=False, choices=[("", "any"), *State.choices])
    customer = KeyField()
    instrument = KeyField()

    def found(self, *, whole=False):
        """The orders that are asked for; what is nonsense in the address counts as not asked."""
        self.is_valid()
        asked = self.cleaned_data
        seen = self.of_branches(WorkOrder.objects.all())
        orders = _SHOWN[self.shown_as](seen)
        if asked.get("state"):
            orders = orders.filter(state=asked["state"])
        if asked.get("q"):
            orders = orders.matching(asked["q"], most=parts.at_most(whole))
        return orders.filter(**self._of_one).order_by(*self.sorting.order_by)

    @cached_property
    def sorting(self):
        """By state: the longest in it first. Over all the years only what an index carries is offered."""
        self.is_valid()
        asked = self.cleaned_data
        is_narrow = asked.get("q") or self._of_one or self.shown_as != "all" or asked.get("state") in OPEN
        return Sorting(COLUMNS, self.data.get("sort"), usual="-booked", is_narrow=bool(is_narrow))

    @property
    def about(self):
        """[(name of the filter, its customer or instrument)] where only one's orders are asked for."""
        found = [(name, OF_ONE[name].objects.filter(pk=key).first()) for name, key in self._of_one.items()]
        return [(name, one) for name, one in found if one]

    @property
    def _of_one(self):
        return {name: self.cleaned_data[name] for name in OF_ONE if self.cleaned_data.get(name)}

    @property
    def shown_as(self):
        """The show that holds, also where the address names none."""
        self.is_valid()
        asked = self.cleaned_data
        return asked.get("show") or ("all" if asked.get("q") or self._of_one else "open")


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
