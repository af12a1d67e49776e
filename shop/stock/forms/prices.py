"""The forms for one item of the price list and for a supplier."""

from decimal import Decimal

from django import forms
from django.utils.functional import cached_property

from shop.lib.amounts import AmountField, QuantityField, RateField
from shop.lib.careful import CarefulForm
from shop.lib.minutes import MinutesField
from shop.lib.sorting import Column, Sorting
from shop.stock.models import LONGEST_MINUTES, PriceItem, Supplier

COLUMNS = (
    Column("name", "Item", ("name", "pk")), Column("kind", "Kind", ("kind", "name", "pk")),
    Column("minutes", "Minutes", ("usual_minutes", "name", "pk"), css="num"),
    Column("tax", "Tax", ("tax_rate", "name", "pk"), css="num"),
    Column("price", "Price", ("price", "name", "pk"), css="num"),
)  # fmt: skip


class ListForm(forms.Form):
    """What the price list is asked for, kept in its address; what is no longer offered stands last."""

    q = forms.CharField(label="Name, number, place or supplier", required=False, max_length=100)

    @cached_property
    def sorting(self):
        return Sorting(COLUMNS, self.data.get("sort"), usual="kind")

    def found(self):
        text = self.cleaned_data.get("q", "") if self.is_valid() else ""
        return PriceItem.objects.matching(text).order_by("retired", *self.sorting.order_by)


class PriceForm(CarefulForm):
    price = AmountField()
    tax_rate = RateField(label="tax rate, %")
    usual_minutes = MinutesField(max_value=LONGEST_MINUTES, help_text="Promises are reckoned from this.")
    cost = AmountField(required=False, label="cost each, without tax")
    reorder_at = QuantityField(required=False, min_value=Decimal(0))
    order_up_to = QuantityField(required=False, min_value=Decimal(0))

    class Meta:
        model = PriceItem
        fields = [
            "kind", "name", "price", "tax_rate", "usual_minutes", "cost", "supplier", "supplier_code", "place",
            "reorder_at", "order_up_to", "retired",
        ]  # fmt: skip
        help_texts = {
            "name": "As it stands on quotes and invoices.",
            "retired": "It stays on old papers; nobody picks it any more.",
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["supplier"].empty_label = "nobody in particular"
        helps = {
            "cost": "What the workshop pays. Only the owner sees it.",
            "place": "Such as drawer 3. Counting walks along these.",
            "reorder_at": "It is to be reordered when this many, or fewer, are free. Empty: only when short.",
            "order_up_to": "How many there should be after that.",
        }
        for name, text in helps.items():
            self.fields[name].help_text = text

    def groups(self):
        """(title, [bound fields]): what is charged, and how it lies on the shelf."""
        shelf = ("cost", "supplier", "supplier_code", "place", "reorder_at", "order_up_to")
        rest = [name for name in self.fields if name not in shelf]
        return [("On papers", [self[name] for name in rest]), ("On the shelf", [self[name] for name in shelf])]


class SupplierForm(CarefulForm):
    class Meta:
        model = Supplier
        fields = ["name", "email", "phone", "website", "customer_number", "notes"]
