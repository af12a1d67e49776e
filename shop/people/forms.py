"""Forms for customers."""

from django import forms
from django.utils.functional import cached_property

from shop.lib import parts
from shop.lib.careful import CarefulForm
from shop.lib.sorting import Column, Sorting
from shop.lib.validators import valid_country, valid_vat_number
from shop.people.models import Customer


class CustomerForm(CarefulForm):
    class Meta:
        model = Customer
        fields = [
            "name", "company", "email", "phone", "mail_agreed", "taste", "notes", "address", "postcode", "town",
            "country", "vat_number", "buyer_reference",
        ]  # fmt: skip
        widgets = {
            "address": forms.Textarea({"rows": 3}),
            "taste": forms.Textarea({"rows": 3}),
            "notes": forms.Textarea({"rows": 3}),
            "phone": forms.TextInput({"type": "tel"}),
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            field.widget.attrs.setdefault("autocomplete", "off")  # the browser's owner is not the customer

    def clean_country(self):
        return _checked(valid_country, self.cleaned_data["country"].strip().upper())

    def clean_vat_number(self):
        return _checked(valid_vat_number, "".join(self.cleaned_data["vat_number"].split()).upper())


def _checked(validator, value):
    """`value`, after `validator` has had nothing against it; empty is allowed."""
    if value:
        validator(value)
    return value


COLUMNS = (
    Column("name", "Name", ("name", "pk")), Column("phone", "Telephone"), Column("email", "E-mail"),
    Column("instruments", "Instruments"), Column("since", "On file since", ("pk",), down=True),
)  # fmt: skip


class ListForm(forms.Form):
    """What the list of customers is asked for, kept in its address; nonsense there counts as not asked."""

    q = forms.CharField(label="Name, telephone or e-mail", required=False, max_length=100)

    @cached_property
    def sorting(self):
        return Sorting(COLUMNS, self.data.get("sort"), usual="name")

    def found(self, *, whole=False):
        """The customers that are asked for, in the order that is asked for."""
        text = self.cleaned_data.get("q", "") if self.is_valid() else ""
        customers = Customer.objects.matching(text, most=parts.at_most(whole)) if text else Customer.objects.all()
        return customers.order_by(*self.sorting.order_by)
