"""The form for a customer."""

from django import forms

from shop.lib import validators
from shop.people.models import Customer


class CustomerForm(forms.ModelForm):
    class Meta:
        model = Customer
        fields = ["name", "company", "email", "phone", "address", "country", "vat_number", "buyer_reference",
                  "taste", "notes", "mail_agreed"]  # fmt: skip
        widgets = {
            "name": forms.TextInput(attrs={"autocomplete": "off"}),
            "phone": forms.TextInput(attrs={"inputmode": "tel", "autocomplete": "off"}),
            "address": forms.Textarea(attrs={"rows": 3}),
            "taste": forms.Textarea(attrs={"rows": 2}),
            "notes": forms.Textarea(attrs={"rows": 2}),
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["country"].validators.append(validators.valid_country)
        self.fields["vat_number"].validators.append(validators.valid_vat_number)

    def clean_country(self):
        return self.cleaned_data["country"].strip().upper()
