"""What is typed about money."""

import uuid
from decimal import Decimal

from django import forms
from django.utils.functional import cached_property

from shop.billing.models import Invoice, PaymentKind
from shop.billing.services import MoneyRefused
from shop.billing.states import InvoiceState
from shop.billing.treatments import Treatment
from shop.lib import parts
from shop.lib.amounts import AmountField, RateField
from shop.lib.dates import today
from shop.lib.keys import KeyField
from shop.lib.paging import counted
from shop.lib.sorting import Column, Sorting
from shop.people.access import only_one_of
from shop.staff.branch_forms import OfBranches

MOST_SUMMED = 5_000  # invoices under a list that are added up; the journal has more of them, month by month


class MoneyForm(forms.Form):
    """A form whose fields are the arguments of one money service."""

    def carry_out(self, service, about, *, by):
        """Call `service(about, by=by, …)`. False, with the reason beside its field, when it refuses."""
        try:
            self.done = service(about, by=by, **self.cleaned_data)
        except MoneyRefused as refusal:
            self.add_error(refusal.field if refusal.field in self.fields else None, str(refusal))
            return False
        return True


class KeyedForm(MoneyForm):
    """A form that counts once, however often it is sent: its key was made when the page was."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)


class DayInput(forms.DateInput):
    input_type = "date"

    def __init__(self):
        super().__init__(format="%Y-%m-%d")


class ReceiveForm(KeyedForm):
    prefix = "receive"
    amount = AmountField(label="amount received", min_value=Decimal("0.01"))
    kind = forms.ChoiceField(label="how", choices=PaymentKind.choices, initial=PaymentKind.CARD)
    # Empty until somebody writes one: a page that stood open overnight would send yesterday's.
    received_on = forms.DateField(
        label="received on", required=False, widget=DayInput, help_text="Another day, if it came before today."
    )
    note = forms.CharField(label="note", max_length=200, required=False, help_text="Only for the workshop.")


class GiveBackForm(KeyedForm):
    prefix = "back"
    amount = AmountField(label="amount given back", min_value=Decimal("0.01"))
    kind = forms.ChoiceField(label="how", choices=PaymentKind.choices, initial=PaymentKind.CARD)
    reason = forms.CharField(label="why", max_length=200)


class UndoForm(KeyedForm):
    reason = forms.CharField(label="what was wrong with it", max_length=200)


class DiscountForm(MoneyForm):
    prefix = "discount"
    percent = RateField(label="discount, %")
    reason = forms.CharField(
        label="what it is for", max_length=120, required=False, help_text="Stands on the invoice, such as: returning."
    )


class TreatmentForm(MoneyForm):
    prefix = "treatment"
    treatment = forms.ChoiceField(
        label="tax", required=False, choices=[("", "as usual"), *Treatment.choices], widget=forms.RadioSelect
    )


COLUMNS = (
    Column("number", "Number", ("issued_on", "pk"), down=True),
    Column("customer", "Customer", ("customer__name", "pk"), narrow=True), Column("order", "Order"),
    Column("issued", "Issued"), Column("due", "Due", ("due_on", "pk")), Column("standing", "Standing"),
    Column("total", "Total", ("total", "pk"), css="num", down=True, narrow=True),
    Column("open", "Open", ("balance__open_amount", "pk"), css="num", down=True, narrow=True),
)  # fmt: skip


UNPAID = ("unpaid", "overdue")


class ListForm(OfBranches):
    """Which invoices to look at. What makes no sense is left out and said; it never empties the list by itself."""

    q = forms.CharField(label="Number, order or customer", max_length=100, required=False)
    state = forms.ChoiceField(
        label="Standing", required=False,
        choices=[("", "all issued"), ("unpaid", "unpaid"), ("overdue", "overdue"), *InvoiceState.choices],
    )  # fmt: skip
    customer = KeyField()
    first = forms.DateField(label="Issued from", required=False, widget=DayInput)
    last = forms.DateField(label="to", required=False, widget=DayInput)

    def found(self, *, whole=False):
        """The invoices asked for, newest first; unpaid ones the longest due first, until another order is asked for."""
        self.full_clean()
        asked = self.cleaned_data
        rows = self.of_branches(Invoice.objects.with_parties(), "order__branch")
        if asked.get("q"):
            rows = rows.matching(asked["q"], most=parts.at_most(whole))
        rows = rows.filter(customer=asked["customer"]) if asked.get("customer") else rows
        rows = self._in_state(rows, asked.get("state")).issued_between(asked.get("first"), asked.get("last"))
        return self._sorted(rows)

    def _sorted(self, rows):
        """As each state has them of its own, where one index finds and sorts them; that order may be turned round."""
        sorting = self.sorting
        if sorting.column.key != self._usual.removeprefix("-"):
            return rows.order_by(*sorting.order_by)
        return rows if sorting.now == self._usual else rows.reverse()

    @property
    def about(self):
        """[("customer", the one whose invoices are asked for)], or nothing."""
        return only_one_of(self.cleaned_data)

    @property
    def _usual(self):
        return "due" if self.cleaned_data.get("state") in UNPAID else "-number"

    @cached_property
    def sorting(self):
        asked = self.cleaned_data
        is_narrow = bool(asked.get("q") or asked.get("first") or asked.get("customer") or asked.get("state") in UNPAID)
        return Sorting(COLUMNS, self.data.get("sort"), usual=self._usual, is_narrow=is_narrow)

    def sums(self, found, currency):
        """Net, tax and total of what was asked for, in `currency`; None when that would add up all the years."""
        asked = self.cleaned_data
        if not (asked.get("first") or asked.get("q") or asked.get("customer") or asked.get("state") in UNPAID):
            return None
        if not isinstance(counted(found, MOST_SUMMED), int):
            return None
        return found.order_by().filter(currency=currency, issued_at__isnull=False).sums()

    @staticmethod
    def _in_state(rows, state):
        if state == "unpaid":
            return rows.unpaid()
        if state == "overdue":
            return rows.overdue(today=today())
        return rows.in_state(state) if state else rows.issued().newest_first()
