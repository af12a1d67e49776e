"""The form of the measured specification: any unit in, only what was changed is written."""

from django import forms

from shop.instruments.effective import measured
from shop.instruments.specification import fields_for
from shop.lib.quantities import read_number, shown_number


class SpecForm(forms.Form):
    """One text field for each value of the bridge family. Empty means not measured.

    A field holds what was measured, in the shop's unit; the hidden copy of what was shown tells what was changed.
    """

    def __init__(self, instrument, *args, unit="mm", **kwargs):
        super().__init__(*args, **kwargs)
        self.instrument, self.unit = instrument, unit
        self.specs = {one.key: one for one in fields_for(instrument.family, instrument.string_count)}
        self.known = measured(instrument)
        for key, spec in self.specs.items():
            self.fields[key] = forms.CharField(
                label=spec.label, help_text=spec.help, required=False, max_length=40, initial=self._now(key),
                show_hidden_initial=True, widget=forms.TextInput({"inputmode": "text", "autocomplete": "off"}),
            )  # fmt: skip

    def clean(self):
        self.values = {}
        for name in self.changed_data:
            text = self.cleaned_data.get(name, "")
            try:
                self.values[name] = (self._read(name, text), text)
            except ValueError as problem:
                self.add_error(name, str(problem))
                continue
            self._check_clash(name, text)
        return self.cleaned_data

    def _read(self, name, text):
        if not text:
            return None
        spec = self.specs[name]
        value = read_number(text, spec.unit, self.unit)
        if not spec.low <= value <= spec.high:
            low, high = (shown_number(bound, spec.unit, self.unit) for bound in (spec.low, spec.high))
            raise ValueError(f"This lies between {low} and {high}; compare what was read.")
        return value

    def _check_clash(self, name, text):
        hidden_name = self.add_initial_prefix(name)
        now = self._now(name)
        if self.data.get(hidden_name, "") == now or text == now:
            return
        self.data = self.data.copy()
        self.data[hidden_name] = now
        said = now or "not measured"
        self.add_error(name, f"Somebody changed this meanwhile to: {said}. Save again to overwrite it.")

    def _now(self, key):
        row = self.known.get(key)
        spec = self.specs[key]
        return shown_number(row.value, spec.unit, self.unit).replace("\u00a0", " ") if row else ""
