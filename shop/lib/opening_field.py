"""A field for opening hours, typed as people write them and kept in one way."""

from django import forms

from shop.lib.opening import HoursUnreadable, read


class OpeningHoursField(forms.CharField):
    """Lines such as `Tue–Fri 10:00–18:00`; a day that is not named is closed. Empty: nothing is written down."""

    def __init__(self, **kwargs):
        kwargs.setdefault("help_text", "A line for each, such as Tue–Fri 10:00–18:00; other days are closed.")
        super().__init__(max_length=400, required=False, widget=forms.Textarea({"rows": 3}), **kwargs)

    def clean(self, value):
        text = super().clean(value)
        try:
            return str(read(text))
        except HoursUnreadable as refusal:
            raise forms.ValidationError(str(refusal)) from None
