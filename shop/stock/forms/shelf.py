"""What comes in, goes back, and is counted."""

import uuid
from decimal import Decimal

from django import forms
from django.db.models import F
from django.utils.functional import cached_property

from shop.lib.amounts import AmountField, QuantityField
from shop.lib.careful import CarefulForm
from shop.lib.sorting import Column, Sorting
from shop.staff.branching import others_open
from shop.staff.models import Branch
from shop.stock.models import ON_SHELF, OtherShelf

SHOWS = {
    "all": "all on the shelf", "low": "low or short", "below": "below zero", "unused": "never moved",
    "retired": "no longer offered",
}  # fmt: skip
COLUMNS = (
    Column("name", "Item", ("name", "pk")), Column("place", "Place", ("place", "name", "pk")),
    Column("supplier", "Supplier", (F("supplier__name").asc(nulls_last=True), "name", "pk")),
    Column("on-hand", "On hand", ("on_hand",), css="num"), Column("reserved", "Reserved", ("reserved",), css="num"),
    Column("free", "Free", ("free",), css="num"), Column("standing", "Standing"),
)  # fmt: skip
ADDED_UP = {"on-hand", "reserved", "free"}  # no column of the database: sorted by once they are added up


class KeyForm(forms.Form):
    """A form whose button counts once, however often it is pressed."""

    key = forms.UUIDField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial.setdefault("key", uuid.uuid4())

    def clean(self):
        """No field is seen that could say what is wrong with the key."""
        cleaned = super().clean()
        if "key" in self.errors:
            self.add_error(None, "This page was changed on its way. Open it again, and write it once more.")
        return cleaned


class ReceiveForm(KeyForm):
    quantity = QuantityField(label="how many came")
    cost = AmountField(label="cost each, without tax", required=False)
    note = forms.CharField(label="delivery note", max_length=200, required=False)


class SendBackForm(KeyForm):
    quantity = QuantityField(label="how many go back")
    note = forms.CharField(label="why", max_length=200)


class SendOnForm(KeyForm):
    """To another branch; `to` are those that are open, but the one it lies in."""

    to = forms.ModelChoiceField(Branch.objects.none(), label="to", empty_label="choose")
    quantity = QuantityField(label="how many go there")
    note = forms.CharField(label="note", max_length=100, required=False)

    def __init__(self, *args, branch=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["to"].queryset = others_open(branch)


class WholeShelfForm(KeyForm):
    """All that lies in `branch`, to another one that is open."""

    to = forms.ModelChoiceField(
        Branch.objects.none(), label="to", empty_label="choose",
        error_messages={"required": "Choose the branch that its shelf goes to.",
                        "invalid_choice": "Choose a branch that is open."},
    )  # fmt: skip

    def __init__(self, *args, branch, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["to"].queryset = others_open(branch)


class KeepForm(CarefulForm):
    """How a branch other than the first keeps an item."""

    reorder_at = QuantityField(required=False, min_value=Decimal(0))
    order_up_to = QuantityField(required=False, min_value=Decimal(0))

    class Meta:
        model = OtherShelf
        fields = ["place", "reorder_at", "order_up_to"]


class CountForm(KeyForm):
    found = QuantityField(label="how many lie there", min_value=Decimal(0))
    note = forms.CharField(label="note", max_length=200, required=False)


class ShelfForm(forms.Form):
    """What the list of the shelf is asked for, kept in its address."""

    q = forms.CharField(required=False, max_length=100)
    show = forms.ChoiceField(required=False, choices=list(SHOWS.items()))
    kind = forms.ChoiceField(
        required=False, choices=[("", "parts and strings"), *[(kind.value, f"{kind.label}s") for kind in ON_SHELF]]
    )

    @cached_property
    def sorting(self):
        return Sorting(COLUMNS, self.data.get("sort"), usual="place")

    def asked(self, name, usual=""):
        """What the address asks for; what is nonsense counts as not asked."""
        self.is_valid()
        return self.cleaned_data.get(name) or usual


