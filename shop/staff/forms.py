"""Forms of the staff room."""

from django import forms
from django.contrib.auth.password_validation import validate_password

from shop.lib import validators
from shop.staff.models import Person, Workshop
from shop.staff.roles import Role

GROUPS = (
    ("The workshop", ("name", "address", "phone", "email", "website", "opening_hours")),
    ("Money and tax", ("currency", "tax_name", "tax_rate", "prices_include_tax", "tax_number", "iban", "bic",
                       "payment_days", "invoice_terms")),
    ("At the counter", ("intake_terms", "rack_slots", "bench_hours_a_day")),
    ("Paper, units and time", ("paper", "length_unit", "reference_pitch_hz", "time_zone")),
)  # fmt: skip


class WorkshopForm(forms.ModelForm):
    class Meta:
        model = Workshop
        fields = [name for _, names in GROUPS for name in names]
        widgets = {name: forms.Textarea(attrs={"rows": 3}) for name in
                   ("address", "opening_hours", "invoice_terms", "intake_terms", "rack_slots")}  # fmt: skip

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["iban"].validators.append(validators.valid_iban)
        self.fields["bic"].validators.append(validators.valid_bic)

    def groups(self):
        return [(title, [self[name] for name in names]) for title, names in GROUPS]

    def clean_currency(self):
        return self.cleaned_data["currency"].strip().upper()


class PersonForm(forms.Form):
    """Somebody who works here. `password` is needed for a new person and optional later."""

    username = forms.SlugField(max_length=40, label="signs in as", help_text="Letters, figures and hyphens.")
    shown_name = forms.CharField(max_length=80, label="name", help_text="As papers and history show it.")
    role = forms.ChoiceField(choices=Role.choices)
    password = forms.CharField(
        max_length=128, strip=False, widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="At least ten characters. A sentence is easier to remember than a riddle.",
    )  # fmt: skip
    is_active = forms.BooleanField(required=False, initial=True, label="may sign in")

    def __init__(self, *args, person=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.person = person
        if person is None:
            del self.fields["is_active"]
        else:
            del self.fields["username"]
            self.fields["password"].required = False
            self.fields["password"].label = "new password"
            self.fields["password"].help_text = "Leave empty to keep the present one."

    def clean_username(self):
        name = self.cleaned_data["username"].lower()
        if Person.objects.filter(username__iexact=name).exists():
            raise forms.ValidationError("Somebody signs in with this name already.")
        return name

    def clean_password(self):
        password = self.cleaned_data["password"]
        if password:
            validate_password(password, self.person)
        return password
