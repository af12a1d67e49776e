"""What the bench's pages send."""

import uuid
from datetime import timedelta

from django import forms
from django.core.exceptions import ValidationError

from shop.instruments.kinds import Kind, Stringing
from shop.lib import quantities
from shop.lib.dates import today
from shop.lib.minutes import ACCEPTED, MinutesField
from shop.lib.templatetags.said import day as said_day
from shop.staff.models import LengthUnit
from shop.worksheets import profiles
from shop.worksheets.models import BenchRules, Stage, TargetProfile
from shop.worksheets.services.photos import WHEN

FARTHEST_CHECK = timedelta(days=3653)


class ReadingForm(forms.Form):
    """One reading as the browser kept it."""

    client_id = forms.UUIDField()
    stage = forms.ChoiceField(choices=Stage.choices)
    key = forms.CharField(max_length=40)
    string = forms.IntegerField(required=False, min_value=1, max_value=99)
    raw = forms.CharField(required=False, max_length=200, strip=False)
    gauge = forms.CharField(required=False, max_length=20)
    unit = forms.ChoiceField(choices=LengthUnit.choices, required=False)
    basis = forms.IntegerField(required=False)

    def problem(self):
        """What is wrong, in one line."""
        return " ".join(message for messages in self.errors.values() for message in messages)


class PlainForm(forms.Form):
    """A step's fields as a page without scripts sends them, each with what it showed and what stood there."""

    once = forms.UUIDField()
    unit = forms.ChoiceField(choices=LengthUnit.choices)

    def changed(self, groups):
        """What save_reading takes of every cell that was changed. The same page sent twice gives the same ids."""
        cells = [(group, cell) for group in groups for cell in group.cells]
        return [self._given(group, cell) for group, cell in cells if self._is_changed(cell)]

    def _is_changed(self, cell):
        typed = self.data.get(f"f-{cell.id}")
        return typed is not None and typed != self.data.get(f"o-{cell.id}", "")

    def _given(self, group, cell):
        basis = self.data.get(f"b-{cell.id}", "")
        return {
            "client_id": uuid.uuid5(self.cleaned_data["once"], cell.id), "stage": cell.place.stage,
            "key": cell.place.key, "string": cell.place.string, "raw": self.data[f"f-{cell.id}"],
            "gauge": self.data.get(f"g-{group.id}", ""), "unit": self.cleaned_data["unit"],
            "basis": int(basis) if basis.isdecimal() else None,
        }  # fmt: skip


class DeviceForm(forms.Form):
    """What one device at the bench prefers."""

    unit = forms.ChoiceField(
        required=False, widget=forms.RadioSelect, error_messages={"invalid_choice": "Choose one of the units."}
    )

    def __init__(self, *args, workshop, **kwargs):
        super().__init__(*args, **kwargs)
        own = f"as the workshop ({workshop.get_length_unit_display()})"
        self.fields["unit"].choices = [("", own), *LengthUnit.choices]


class StepPhotoForm(forms.Form):
    """What goes with a step's photographs."""

    when = forms.ChoiceField(
        choices=WHEN,
        error_messages=dict.fromkeys(("invalid_choice", "required"), "Say whether it was before or after."),
    )
    caption = forms.CharField(required=False, max_length=180, error_messages={
        "max_length": "Say what it shows in 180 characters or fewer.",
    })  # fmt: skip
    key = forms.UUIDField(required=False)

    def problem(self):
        return " ".join(message for messages in self.errors.values() for message in messages)


class SpanForm(forms.Form):
    """A stretch of work as the page's clock saw it: how long ago it began and ended, in milliseconds."""

    client_id = forms.UUIDField()
    began_ago = forms.IntegerField(min_value=0)
    ended_ago = forms.IntegerField(min_value=0)

    def clean_began_ago(self):
        return _ago(self.cleaned_data["began_ago"])

    def clean_ended_ago(self):
        return _ago(self.cleaned_data["ended_ago"])


def _ago(milliseconds):
    try:
        return timedelta(milliseconds=milliseconds)
    except OverflowError as problem:
        raise ValidationError("That is too long ago.") from problem


class TimeForm(forms.Form):
    minutes = MinutesField(error_messages={"required": ACCEPTED})

    def problem(self):
        return " ".join(message for messages in self.errors.values() for message in messages)


class StartForm(forms.Form):
    profile = forms.ModelChoiceField(
        TargetProfile.objects.none(), label="Targets", empty_label=None,
        error_messages={"invalid_choice": "Choose one of the workshop's profiles.",
                        "required": "Choose the targets to work to."},
    )  # fmt: skip
    stringing = forms.ChoiceField(
        choices=Stringing.choices, label="Strings go", widget=forms.RadioSelect,
        error_messages={"invalid_choice": "Choose how the strings go.", "required": "Choose how the strings go."},
    )  # fmt: skip

    def __init__(self, *args, kind, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["profile"].queryset = TargetProfile.objects.filter(kind=kind)
        self.fields["profile"].widget.attrs["class"] = "form-select"


class SignForm(forms.Form):
    watch = forms.CharField(
        label="What to watch", required=False, max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3, "class": "form-control"}),
        help_text="Printed on the handover sheet: what the player should keep an eye on.",
    )  # fmt: skip
    next_check_on = forms.DateField(
        label="Next check", required=False,
        widget=forms.DateInput(attrs={"type": "date", "class": "form-control"}, format="%Y-%m-%d"),
        error_messages={"invalid": "Write the date as year-month-day, such as 2027-03-31."},
        help_text="The day on which the player is asked to come back.",
    )  # fmt: skip

    def clean_next_check_on(self):
        day = self.cleaned_data["next_check_on"]
        if day and day < today():
            raise ValidationError(f"{said_day(day)} is past. Write a day on which the player can still come.")
        if day and day - today() > FARTHEST_CHECK:
            raise ValidationError(f"{said_day(day)} is more than ten years away. Write a nearer day.")
        return day


class RuleForm(forms.ModelForm):
    class Meta:
        model = BenchRules
        fields = ["rule"]
        widgets = {"rule": forms.RadioSelect}
        error_messages = {"rule": dict.fromkeys(("invalid_choice", "required"), "Choose one of the rules.")}


class ProfileNameForm(forms.ModelForm):
    class Meta:
        model = TargetProfile
        fields = ["name", "kind"]
        error_messages = {
            "name": {"required": "Give the profile a name.", "unique": "Another profile has this name already."}
        }
        help_texts = {"name": "As the bench should see it, such as 'Electric, low'."}
        widgets = {"name": forms.TextInput(attrs={"class": "form-control"})}

    kind = forms.ChoiceField(
        choices=Kind.choices, label="Used for", widget=forms.Select(attrs={"class": "form-select"})
    )


class RangeForm(forms.Form):
    """One range: both ends as they are written, in the workshop's unit; an empty end is open."""

    low = forms.CharField(required=False, max_length=20)
    high = forms.CharField(required=False, max_length=20)

    def __init__(self, *args, key, label, unit, length_unit, **kwargs):
        super().__init__(*args, prefix=key, **kwargs)
        self.key, self.label, self.unit, self.length_unit = key, label, unit, length_unit
        for end, name in (("low", "from"), ("high", "to")):
            self.fields[end].widget.attrs = {
                "class": "form-control", "aria-label": f"{label}, {name}", "inputmode": "decimal",
                "autocomplete": "off",
            }  # fmt: skip

    def clean_low(self):
        return self._read("low")

    def clean_high(self):
        return self._read("high")

    def _read(self, end):
        text = self.cleaned_data[end].strip()
        if not text:
            return None
        readers = {"deg": quantities.angle_deg, "cents": quantities.cents}
        try:
            if self.unit in readers:
                return readers[self.unit](text)
            return quantities.length_mm(text, unit=self.length_unit)
        except ValueError as problem:
            raise ValidationError(str(problem)) from problem

    def clean(self):
        found = super().clean()
        low, high = found.get("low"), found.get("high")
        if low is not None and high is not None and low > high:
            self.add_error("high", "The upper end must not be below the lower one.")
        return found


def all_valid(forms):
    """Whether every form is; each is asked, so that each shows its own problems."""
    return not [form for form in forms if not form.is_valid()]


def typed_ranges(forms, have):
    """{key: [low, high]} as typed: an end that was not touched keeps its stored figure; two open ends are no range."""
    found = {}
    for form in forms:
        before = dict(zip(("low", "high"), have.get(form.key) or (None, None), strict=True))
        ends = before | {end: form.cleaned_data[end] for end in form.changed_data}
        if ends["low"] is not None or ends["high"] is not None:
            found[form.key] = [ends["low"], ends["high"]]
    return found


def taste_forms(page, *, data=None):
    """One form a target of a LikesPage, each with what holds where nothing is written."""
    made = [
        RangeForm(data, key=key, label=label, unit=unit, length_unit=page.unit,
                  initial=_initial(page.ranges.get(key), unit, page.unit))
        for key, label, unit in profiles.TARGETS
    ]  # fmt: skip
    for form in made:
        form.usual = page.usual(form.key, form.unit)
    return made


def _initial(ends, unit, length_unit):
    low, high = ends or (None, None)
    return {"low": _written(low, unit, length_unit), "high": _written(high, unit, length_unit)}


def range_forms(profile, *, data=None, length_unit="mm"):
    """One form a target, in the order of the owner's screen."""
    have = {one.key: one for one in profile.ranges.all()} if profile else {}
    return [
        RangeForm(
            data, key=key, label=label, unit=unit, length_unit=length_unit,
            initial={end: _written(getattr(have.get(key), end, None), unit, length_unit) for end in ("low", "high")},
        )
        for key, label, unit in profiles.TARGETS
    ]  # fmt: skip


def _written(value, unit, length_unit):
    """A stored end as it is edited: without its unit, which stands beside the field."""
    if value is None:
        return ""
    if unit != "mm" or length_unit == "mm":
        return f"{value:.4f}".rstrip("0").rstrip(".")
    return f"{value / quantities.length_mm('1', unit=length_unit):.4f}".rstrip("0").rstrip(".")
