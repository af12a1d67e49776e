"""Time that work takes, in minutes, as people at a bench write it."""

import re
from decimal import Decimal

from django import forms

ACCEPTED = "Write minutes, such as 90, or hours, such as 1:30 or 1.5 h."
MINUTES = re.compile(r"(\d{1,6})(?:min|m)?", re.ASCII)
HOURS = re.compile(r"(\d{1,4}(?:[.,]\d{1,2})?)h", re.ASCII)
HOURS_AND_MINUTES = re.compile(r"(\d{1,4})(?::|h)([0-5]\d|\d(?=m))(?:min|m)?", re.ASCII)


def read(text):
    """Whole minutes of `90`, `45 min`, `2 h`, `1.5 h`, `1:30`, `1h30`, `1 h 30 min`.

    Raises ValueError, a sentence, for anything else.
    """
    bare = re.sub(r"\s", "", text).lower()
    if told := MINUTES.fullmatch(bare):
        return int(told[1])
    if told := HOURS.fullmatch(bare):
        return round(Decimal(told[1].replace(",", ".")) * 60)
    if told := HOURS_AND_MINUTES.fullmatch(bare):
        return int(told[1]) * 60 + int(told[2])
    raise ValueError(ACCEPTED)


class MinutesField(forms.IntegerField):
    """Minutes, written as `read` takes them; shown as whole ones."""

    widget = forms.TextInput

    def __init__(self, *, min_value=0, **kwargs):
        super().__init__(min_value=min_value, **kwargs)

    def to_python(self, value):
        if not isinstance(value, str) or value in self.empty_values:
            return super().to_python(value)
        try:
            return read(value)
        except ValueError as problem:
            raise forms.ValidationError(str(problem)) from None

    def widget_attrs(self, widget):
        return {"inputmode": "numeric", "autocomplete": "off"}
