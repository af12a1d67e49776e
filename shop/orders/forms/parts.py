"""A part reached for at the bench."""

import uuid
from decimal import Decimal

from django import forms

from shop.lib.amounts import QuantityField
from shop.orders.forms.lines import OffersItems
from shop.orders.services import NewLine
from shop.stock.models import PriceItem


class KeyForm(forms.Form):
    key = forms.UUIDField(required=False, widget=forms.HiddenInput)


class UsePartForm(OffersItems, KeyForm):
    """One item of the shelf and how much of it was used."""

    item = forms.ModelChoiceField(
        PriceItem.objects.offered().on_shelf().order_by("kind", "name"), label="part or strings", empty_label="choose"
    )
    quantity = QuantityField(label="how many", initial=Decimal(1))

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial.setdefault("key", uuid.uuid4())

    def new_line(self):
        return NewLine.of(self.cleaned_data["item"], self.cleaned_data["quantity"])
