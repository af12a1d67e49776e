"""Forms of the first set-up, and of the logo."""

from django import forms
from django.contrib.auth.password_validation import validate_password

from shop.staff.forms import WIDTHS, WorkshopForm
from shop.staff.setting_up import FIELDS

HALF = ("name", "website", "phone", "email", "address", "opening_hours", "currency", "number_format", "tax_name",
        "tax_rate", "tax_number", "iban", "bic")  # fmt: skip
WIDE = dict.fromkeys(HALF, "=") | {"prices_include_tax": "/", "rack_slots": "/"}


class OwnerForm(forms.Form):
    shown_name = forms.CharField(max_length=80, label="your name", help_text="As papers and the history show it.")
    password = forms.CharField(
        max_length=128, strip=False, required=False, label="a password of your own",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="At least ten characters, such as a sentence. Empty keeps the present one.",
    )  # fmt: skip

    def __init__(self, *args, person, **kwargs):
        super().__init__(*args, **kwargs)
        self.person = person

    def clean_password(self):
        password = self.cleaned_data["password"]
        if password:
            validate_password(password, self.person)
        return password


def step_form(step, *args, **kwargs):
    """The part of the workshop's own form that a step asks for."""
    form = WorkshopForm(*args, **kwargs)
    for name in set(form.fields) - set(FIELDS[step]):
        del form.fields[name]
    form.order_fields(FIELDS[step])
    form.widths = [(form[name], WIDTHS.get(WIDE.get(name, ""), "")) for name in FIELDS[step]]
    return form


class LogoForm(forms.Form):
    file = forms.FileField(
        label="picture", max_length=200, help_text="PNG, JPEG or WebP; it is made smaller where it has to be.",
        widget=forms.FileInput({"accept": "image/png,image/jpeg,image/webp"}),
        error_messages={"empty": "The file is empty.", "required": "Choose a picture first."},
    )  # fmt: skip
