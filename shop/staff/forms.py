"""Forms of the staff room."""

from decimal import Decimal
from zoneinfo import available_timezones

from django import forms
from django.contrib.auth.password_validation import validate_password

from shop.lib import validators
from shop.lib.amounts import QuantityField, RateField
from shop.lib.careful import CarefulForm
from shop.lib.keys import RowsField
from shop.lib.opening_field import OpeningHoursField
from shop.staff.branching import several
from shop.staff.models import Branch, Person, Workshop
from shop.staff.roles import Role

# (title, what it is for, fields). How wide a field stands, when not a third: / the whole width, = half of it.
GROUPS = (
    ("The workshop", "As it stands on every paper and at the foot of every mail.",
     ("name=", "website=", "phone=", "email=", "address=", "opening_hours=", "country")),
    ("Money and tax", "What an invoice has to name is for local law to say; a licensed adviser knows.",
     ("currency=", "number_format=", "tax_name", "tax_rate", "tax_number", "prices_include_tax/",
      "exempt_reason/", "iban=", "bic=")),
    ("Invoices", "An invoice that is issued keeps the words it was issued with.",
     ("invoice_prefix=", "payment_days=", "invoice_terms/")),
    ("At the counter", "The terms are shown at book-in and kept with every order as they were signed.",
     ("intake_terms/", "rack_slots=", "bench_hours_a_day=")),
    ("Waiting to be collected", "Whoever may be mailed is reminded of an instrument that is ready.",
     ("collect_after_days", "collect_every_days", "collect_most")),
    ("Paper, units and time", "Readings are kept as they were typed; this is how they are shown.",
     ("paper=", "length_unit=", "reference_pitch_hz=", "time_zone=")),
)  # fmt: skip
LONG = ("address", "invoice_terms", "intake_terms", "rack_slots")
FIGURES = ("payment_days", "reference_pitch_hz", "collect_after_days", "collect_every_days", "collect_most")
WIDTHS = {"/": "is-wide", "=": "is-half"}
REGIONS = {  # the others in the database are kept for what was set long ago
    "Africa", "America", "Antarctica", "Arctic", "Asia", "Atlantic", "Australia", "Europe", "Indian", "Pacific",
}  # fmt: skip
UPPER = ("country", "currency", "bic", "invoice_prefix")


class WorkshopForm(CarefulForm):
    opening_hours = OpeningHoursField()
    tax_rate = RateField(label="usual tax rate, %", help_text="The price list may say otherwise for an item.")
    bench_hours_a_day = QuantityField(
        min_value=Decimal("0.5"), max_value=Decimal(24),
        help_text="Of everybody at the bench together; promises are reckoned from it.",
    )  # fmt: skip
    time_zone = forms.ChoiceField(error_messages={"invalid_choice": "Choose a zone such as Europe/Berlin."})

    class Meta:
        model = Workshop
        fields = [name.rstrip("/=") for _, _, names in GROUPS for name in names]
        labels = {
            "phone": "telephone", "website": "web address", "rack_slots": "places on the rack",
            "collect_after_days": "first reminder, days", "collect_every_days": "then every, days",
        }  # fmt: skip
        help_texts = {
            "currency": "Three letters of ISO 4217, such as EUR. Papers that are issued keep theirs.",
            "reference_pitch_hz": "The a′ that strings are tuned to.",
            "intake_terms": "Empty: nobody is asked to sign.",
        }
        # Figures are plain text fields: a browser's own number field drops what it cannot read.
        widgets = {name: forms.Textarea(attrs={"rows": 3}) for name in LONG} | {
            name: forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}) for name in FIGURES
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["time_zone"].choices = [(zone, zone.replace("_", " ")) for zone in zones(self.instance.time_zone)]
        for name in UPPER:
            self.fields[name].widget.attrs["autocapitalize"] = "characters"
        for name, check in (
            ("iban", validators.valid_iban),
            ("bic", validators.valid_bic),
            ("country", validators.valid_country),
            ("currency", validators.valid_currency),
        ):
            field = self.fields[name]
            field.to_python = _upper if name in UPPER else field.to_python
            field.validators.append(check)
        self.fields["invoice_prefix"].to_python = _upper

    def groups(self):
        """(title, what it is for, [(field, its class for width)])."""
        return [
            (title, about, [(self[name.rstrip("/=")], WIDTHS.get(name[-1], "")) for name in names])
            for title, about, names in GROUPS
        ]


def zones(stands):
    """Places whose time a clock on the wall may show, and UTC; what stands already stays to be chosen."""
    places = {zone for zone in available_timezones() if zone.split("/")[0] in REGIONS}
    return sorted(places | {"UTC", stands})


def _upper(value):
    """What was typed, without blanks around it and in capitals: codes are written so."""
    return (value or "").strip().upper()


class PersonForm(forms.Form):
    """Somebody who works here. `password` is needed for a new person and optional later."""

    shown_name = forms.CharField(max_length=80, label="name", help_text="As papers and the history show it.")
    username = forms.SlugField(
        max_length=40, label="signs in as", help_text="Letters, figures and hyphens; it cannot be changed later.",
        widget=forms.TextInput(attrs={"autocapitalize": "none", "autocomplete": "off", "spellcheck": "false"}),
    )  # fmt: skip
    email = forms.EmailField(
        required=False, max_length=254, label="e-mail",
        help_text="For a link to a new password, should it be forgotten.",
    )  # fmt: skip
    role = forms.ChoiceField(choices=Role.choices, widget=forms.RadioSelect)
    password = forms.CharField(
        max_length=128, strip=False, widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="At least ten characters. A sentence is easier to remember than a riddle.",
    )  # fmt: skip
    branches = RowsField(
        Branch.objects.filter(is_active=True), required=False, label="works in", widget=forms.CheckboxSelectMultiple,
        help_text="An owner sees every branch.",
    )  # fmt: skip
    is_active = forms.BooleanField(
        required=False, initial=True, label="may sign in",
        help_text="Unticked, they are signed out at once. Their name stays in the history.",
    )  # fmt: skip

    def __init__(self, *args, person=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.person = person
        if not several():
            del self.fields["branches"]
        if person is None:
            del self.fields["is_active"]
        else:
            del self.fields["username"]
            self.fields["password"].required = False
            self.fields["password"].label = "new password"
            self.fields["password"].help_text = "Leave empty to keep the present one. A new one ends other sign-ins."

    def clean(self):
        read = super().clean()
        if "branches" in read and not read["branches"] and read.get("role") != Role.OWNER:
            self.add_error("branches", "Tick where they work.")
        return read

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
