"""Forms for customers."""

from django import forms

from shop.lib.careful import CarefulForm
from shop.lib.validators import valid_country, valid_vat_number
from shop.people.models import Customer


class CustomerForm(CarefulForm):
    class Meta:
        model = Customer
        fields = [
            "name", "company", "email", "phone", "mail_agreed", "taste", "notes", "address", "country", "vat_number",
            "buyer_reference",
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


class ListForm(forms.Form):
    """What the list of customers is asked for, kept in its address."""

    ORDERS = {"name": ("name", "pk"), "newest": ("-created_at", "-pk")}

    q = forms.CharField(label="Name, telephone or e-mail", required=False, max_length=100)
    sort = forms.ChoiceField(
        label="Order", required=False, choices=[("name", "by name"), ("newest", "newest first")]
    )

    def found(self):
        """The customers that are asked for; with nonsense in the address, all of them."""
        asked = self.cleaned_data if self.is_valid() else {}
        text = asked.get("q", "")
        customers = Customer.objects.matching(text) if text else Customer.objects.all()
        return customers.order_by(*self.ORDERS[asked.get("sort") or "name"])
