"""Forms for an instrument, its measured specification and its strings."""

from django import forms

from shop.instruments.effective import effective_spec, effective_strings, measured
from shop.instruments.kinds import Material
from shop.instruments.models import Instrument
from shop.instruments.specification import fields_for
from shop.instruments.tunings import midi_of, note_name
from shop.lib.quantities import gauge_mm, read_number, shown_number


class InstrumentForm(forms.ModelForm):
    class Meta:
        model = Instrument
        fields = ["kind", "string_count", "family", "hand", "maker", "model_name", "serial", "colour", "year",
                  "stringing", "post_thread", "stud_thread", "saddle_thread", "taste", "notes"]  # fmt: skip
        widgets = {"taste": forms.Textarea(attrs={"rows": 2}), "notes": forms.Textarea(attrs={"rows": 2})}
        help_texts = {
            "post_thread": "Leave empty if not known: moves are then given in millimetres only.",
            "stringing": "How the strings meet a separate tailpiece.",
        }


class SpecificationForm(forms.Form):
    """One text field a measurable value, in any unit; empty says that nobody has measured it."""

    def __init__(self, *args, instrument, length_unit, **kwargs):
        super().__init__(*args, **kwargs)
        self.length_unit = length_unit
        self.specs = {one.key: one for one in fields_for(instrument.family)}
        known, effective = measured(instrument), effective_spec(instrument)
        for key, spec in self.specs.items():
            usual = shown_number(spec.typical_for(instrument.kind), spec.unit, length_unit)
            says = f"Usual: {usual}, assumed until measured." if usual else ""
            row = known.get(key)
            if row:
                says = f"Measured {row.at:%Y-%m-%d}{f' by {row.by}' if row.by else ''}. {says}"
            self.fields[key] = forms.CharField(
                required=False, max_length=40, label=spec.label, help_text=f"{spec.help} {says}".strip(),
                initial=shown_number(effective[key]["value"], spec.unit, length_unit) if row else "",
            )  # fmt: skip

    def clean(self):
        for key, spec in self.specs.items():
            typed = self.cleaned_data.get(key, "").strip()
            if not typed:
                continue
            try:
                value = read_number(typed, spec.unit, self.length_unit)
            except ValueError as problem:
                self.add_error(key, str(problem))
                continue
            if not spec.low <= value <= spec.high:
                low, high = (shown_number(end, spec.unit, self.length_unit) for end in (spec.low, spec.high))
                self.add_error(key, f"Believable is {low} to {high}.")
        return self.cleaned_data

    @property
    def values(self):
        """{key: (value or None, as typed)} of the fields that were changed."""
        return {
            key: (read_number(typed, self.specs[key].unit, self.length_unit) if typed else None, typed)
            for key in self.changed_data
            for typed in [self.cleaned_data[key].strip()]
        }


class StringForm(forms.Form):
    """One string as fitted."""

    number = forms.IntegerField(widget=forms.HiddenInput)
    note = forms.CharField(max_length=6)
    thickness = forms.CharField(max_length=20, help_text="")
    material = forms.ChoiceField(choices=Material.choices)
    core = forms.CharField(max_length=20, required=False)

    def clean_note(self):
        return self._read("note", midi_of)

    def clean_thickness(self):
        return self._believable(self._read("thickness", gauge_mm))

    def clean_core(self):
        return self._believable(self._read("core", gauge_mm)) if self.cleaned_data["core"].strip() else None

    def clean(self):
        core, whole = self.cleaned_data.get("core"), self.cleaned_data.get("thickness")
        if core and whole and core >= whole:
            self.add_error("core", "The core must be thinner than the whole string.")
        return self.cleaned_data

    def _read(self, name, parse):
        try:
            return parse(self.cleaned_data[name])
        except ValueError as problem:
            raise forms.ValidationError(str(problem)) from None

    def _believable(self, value_mm):
        if not 0.1 <= value_mm <= 5.0:
            raise forms.ValidationError("A string is between 0.1 and 5 mm thick.")
        return value_mm

    @property
    def as_string(self):
        read = self.cleaned_data
        return {"number": read["number"], "midi": read["note"], "material": read["material"],
                "diameter_mm": read["thickness"], "core_mm": read["core"]}  # fmt: skip


def strings_formset(instrument, data=None):
    """A form a string, from string 1 on, filled with what is on record or usual."""
    strings = sorted(effective_strings(instrument), key=lambda one: one["number"])
    start = [
        {
            "number": one["number"], "note": note_name(one["midi"]), "material": one["material"],
            "thickness": f"{one['diameter_mm'] / 25.4:.4f}".rstrip("0") + " in" if one["diameter_mm"] else "",
            "core": f"{one['core_mm']:.3f} mm" if one["core_mm"] else "",
        }
        for one in strings
    ]  # fmt: skip
    count = len(start)
    formset = forms.formset_factory(StringForm, extra=0, min_num=count, max_num=count, absolute_max=count)
    return formset(data, initial=start, prefix="string")
