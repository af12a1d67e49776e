"""Lines of work and parts, typed freely or picked from the price list."""

from decimal import Decimal

from django import forms

from shop.lib.amounts import AmountField, QuantityField, RateField
from shop.lib.careful import CarefulForm
from shop.lib.minutes import MinutesField
from shop.orders.forms.fields import RowForm
from shop.orders.models import Line
from shop.orders.services import NewLine
from shop.stock.models import LONGEST_MINUTES, ItemKind, PriceItem

MOST_LINES = 40


class FreeLineForm(RowForm):
    """A line that is on no price list. Left blank it is no line."""

    TELLS = ("text", "price")

    text = forms.CharField(label="what", max_length=200, required=False)
    kind = forms.ChoiceField(choices=ItemKind.choices, initial=ItemKind.WORK)
    quantity = QuantityField(initial=Decimal(1))
    price = AmountField(label="price each", required=False)
    minutes = MinutesField(label="minutes", max_value=LONGEST_MINUTES, required=False)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name, field in self.fields.items():
            field.widget.attrs |= {"class": "form-select" if name == "kind" else "form-control", "autocomplete": "off"}

    def clean(self):
        read = super().clean()
        if read.get("price") is not None and not read.get("text"):
            self.add_error("text", "Say what the price is for.")
        if read.get("text") and read.get("price") is None and "price" not in self.errors:
            self.add_error("price", "Write its price; 0 if it costs nothing.")
        return read


class FreeLineFormSet(forms.BaseFormSet):
    def new_lines(self, tax_rate):
        """NewLines of what was filled in, taxed at `tax_rate`."""
        return tuple(
            NewLine(
                text=read["text"], price=read["price"], tax_rate=tax_rate, quantity=read["quantity"],
                kind=read["kind"], minutes=read["minutes"] or 0,
            )
            for form in self.forms
            if not form.is_blank
            for read in [form.cleaned_data]
        )  # fmt: skip


FreeLinesForm = forms.formset_factory(
    FreeLineForm, formset=FreeLineFormSet, extra=1, max_num=MOST_LINES, validate_max=True, absolute_max=MOST_LINES + 20
)


class OffersItems(forms.Form):
    """A form with an `item` of the price list."""

    def offering(self, items):
        """The same form with `items`, which were read already, to choose from."""
        self.fields["item"].choices = [("", "choose"), *((item.pk, str(item)) for item in items)]
        return self


class PickForm(OffersItems):
    """One item of the price list and how much of it."""

    item = forms.ModelChoiceField(
        PriceItem.objects.offered().order_by("-kind", "name"), label="price list", empty_label="choose"
    )
    quantity = QuantityField(label="how many", initial=Decimal(1))

    def new_line(self):
        return NewLine.of(self.cleaned_data["item"], self.cleaned_data["quantity"])


class OneLineForm(forms.Form):
    """A line typed freely on an order's own page."""

    text = forms.CharField(label="what", max_length=200)
    kind = forms.ChoiceField(choices=ItemKind.choices, initial=ItemKind.WORK)
    quantity = QuantityField(initial=Decimal(1))
    price = AmountField(label="price each")
    minutes = MinutesField(label="minutes estimated", max_value=LONGEST_MINUTES, required=False)

    def new_line(self, tax_rate):
        read = self.cleaned_data
        return NewLine(read["text"], read["price"], tax_rate, read["quantity"], read["kind"], read["minutes"] or 0)


class LineForm(CarefulForm):
    """A line that is on the order already."""

    quantity = QuantityField()
    price = AmountField(label="price each")
    tax_rate = RateField(label="tax, %")
    minutes = MinutesField(label="minutes estimated", max_value=LONGEST_MINUTES)

    class Meta:
        model = Line
        fields = ["text", "kind", "quantity", "price", "tax_rate", "minutes"]
