"""What is typed about the bench's time."""

from decimal import Decimal
from itertools import chain

from django import forms
from django.db import transaction

from shop.lib.amounts import QuantityField
from shop.lib.careful import CarefulForm
from shop.lib.dates import today
from shop.lib.opening import WEEKDAYS as SHORT_DAYS
from shop.lib.opening import HoursUnreadable, checked, clock, minutes_of
from shop.lib.templatetags.said import day as said
from shop.orders.forms.fields import DayInput, PromiseField
from shop.orders.models import BenchHours, ClosedDays
from shop.orders.plan_models import WEEKDAYS
from shop.staff.branching import choices
from shop.staff.models import Branch


class MovePromiseForm(forms.Form):
    """An order's promise moved in the calendar."""

    number = forms.SlugField(max_length=16)
    day = PromiseField()

    def __init__(self, *args, place, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["day"].place = place


LONGEST_CLOSED = 366
SPAN_NAMES = (("opens", "closes"), ("again", "until"))
SPAN_LABELS = {"opens": "opens", "closes": "closes", "again": "opens again", "until": "closes again"}


class HourField(forms.Field):
    """A time of the day in minutes: `10`, `10:30`, `24:00`. Empty is none."""

    def __init__(self, **kwargs):
        attrs = {"class": "form-control", "inputmode": "numeric", "autocomplete": "off", "maxlength": 8}
        super().__init__(required=False, widget=forms.TextInput(attrs), **kwargs)

    def to_python(self, value):
        text = str(value or "").strip()
        try:
            return minutes_of(text) if text else None
        except HoursUnreadable as refusal:
            raise forms.ValidationError(str(refusal)) from None


class HoursForm(forms.Form):
    """The hours of each day of the week, of everybody at the bench together."""

    def __init__(self, *args, bench, **kwargs):
        initial = {f"day{n}": Decimal(minutes) / 60 for n, minutes in enumerate(bench.by_weekday)}
        super().__init__(*args, initial=initial, **kwargs)
        for number, name in enumerate(WEEKDAYS):
            self.fields[f"day{number}"] = QuantityField(
                label=name, min_value=Decimal(0), max_value=Decimal(200),
            )  # fmt: skip

    def clean(self):
        read = super().clean()
        if not self.errors and not any(read.values()):
            self.add_error("day0", "The bench has to work on some day of the week.")
        return read

    @transaction.atomic
    def keep(self, branch=None):
        """The hours of `branch`, or of a workshop that has none."""
        for number in range(7):
            hours = self.cleaned_data[f"day{number}"]
            BenchHours.objects.update_or_create(branch=branch, weekday=number, defaults={"hours": hours})


class OpeningForm(forms.Form):
    """The opening hours day by day: from, to, and once more after a break. A day without times is closed."""

    def __init__(self, *args, week, **kwargs):
        initial = {
            f"{name}{number}": clock(at)
            for number, spans in enumerate(week.days)
            for names, span in zip(SPAN_NAMES, spans, strict=False)
            for name, at in zip(names, span, strict=True)
        }
        super().__init__(*args, initial=initial, **kwargs)
        for number, day in enumerate(WEEKDAYS):
            for name in chain(*SPAN_NAMES):
                self.fields[f"{name}{number}"] = HourField(label=f"{day}, {SPAN_LABELS[name]}")

    @property
    def rows(self):
        """(day, its four fields, what is wrong with the day)."""
        for number, day in enumerate(WEEKDAYS):
            fields = [self[f"{name}{number}"] for name in chain(*SPAN_NAMES)]
            yield day, fields, [error for field in fields for error in field.errors]

    def clean(self):
        read = super().clean()
        days = []
        for number in range(7):
            pairs = [tuple(read.get(f"{name}{number}") for name in names) for names in SPAN_NAMES]
            for names, pair in zip(SPAN_NAMES, pairs, strict=True):
                if (pair[0] is None) != (pair[1] is None) and not set(self._named(names, number)) & set(self.errors):
                    lacks = names[pair[0] is not None]
                    self.add_error(f"{lacks}{number}", "Write both, when it opens and when it closes.")
            days.append([pair for pair in pairs if None not in pair])
        if not self.errors:
            self._check(days)
        return read

    def _check(self, days):
        try:
            self.week = checked(days)
        except HoursUnreadable as refusal:
            day, _, says = str(refusal).partition(": ")
            self.add_error(f"opens{SHORT_DAYS.index(day)}", says[:1].upper() + says[1:])

    @staticmethod
    def _named(names, number):
        return [f"{name}{number}" for name in names]


class ClosedForm(CarefulForm):
    class Meta:
        model = ClosedDays
        fields = ["first", "last", "name", "branch"]
        widgets = {name: DayInput({"class": "form-control"}) for name in ("first", "last")}

    def __init__(self, *args, person, **kwargs):
        super().__init__(*args, **kwargs)
        found = choices(person)
        if found:
            self.fields["branch"].queryset = Branch.objects.filter(pk__in=[branch.pk for branch in found])
            self.fields["branch"].empty_label = "all branches"
        else:
            del self.fields["branch"]

    def clean_last(self):
        last, first = self.cleaned_data["last"], self.cleaned_data.get("first")
        if last < today():
            raise forms.ValidationError(f"{said(last)} is past.")
        if first and (last - first).days > LONGEST_CLOSED:
            raise forms.ValidationError("That is more than a year. Write a nearer last day.")
        return last
