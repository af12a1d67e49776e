"""What is typed about the bench's time."""

from decimal import Decimal

from django import forms
from django.db import transaction

from shop.lib.amounts import QuantityField
from shop.lib.careful import CarefulForm
from shop.lib.dates import is_believable_promise, today
from shop.orders.forms.fields import DayInput
from shop.orders.models import BenchHours, ClosedDays
from shop.orders.plan_models import WEEKDAYS


class MovePromiseForm(forms.Form):
    """An order's promise moved in the calendar."""

    number = forms.SlugField(max_length=16)
    day = forms.DateField()

    def clean_day(self):
        day = self.cleaned_data["day"]
        if not is_believable_promise(day, now=today()):
            raise forms.ValidationError("Promise a day from today on, within two years.")
        return day


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
    def keep(self):
        for number in range(7):
            hours = self.cleaned_data[f"day{number}"]
            BenchHours.objects.update_or_create(weekday=number, defaults={"hours": hours})


class ClosedForm(CarefulForm):
    class Meta:
        model = ClosedDays
        fields = ["first", "last", "name"]
        widgets = {name: DayInput({"class": "form-control"}) for name in ("first", "last")}
