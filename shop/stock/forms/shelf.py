"""What comes in, goes back, and is counted."""

import uuid
from decimal import Decimal

from django import forms

from shop.lib.amounts import AmountField, QuantityField
from shop.stock.models import ON_SHELF

SHOWS = {
    "all": "all on the shelf", "low": "low or short", "below": "below zero", "unused": "never moved",
    "retired": "no longer offered",
}  # fmt: skip
SORTS = {"place": ("by place", ("place", "name", "pk")), "name": ("by name", ("name", "pk")),
         "supplier": ("by supplier", ("supplier__name", "name", "pk"))}  # fmt: skip


class KeyForm(forms.Form):
    """A form whose button counts once, however often it is pressed."""

    key = forms.UUIDField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial.setdefault("key", uuid.uuid4())


class ReceiveForm(KeyForm):
    quantity = QuantityField(label="how many came")
    cost = AmountField(label="cost each, without tax", required=False)
    note = forms.CharField(label="delivery note", max_length=200, required=False)


class SendBackForm(KeyForm):
    quantity = QuantityField(label="how many go back")
    note = forms.CharField(label="why", max_length=200)


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
    sort = forms.ChoiceField(required=False, choices=[(key, label) for key, (label, _) in SORTS.items()])

    def asked(self, name, usual=""):
        """What the address asks for; what is nonsense counts as not asked."""
        self.is_valid()
        return self.cleaned_data.get(name) or usual


