"""The form of the strings that are on an instrument: filled in from a usual set and tuning, or string by string."""

from django import forms

from shop.instruments.effective import effective_strings
from shop.instruments.kinds import Material
from shop.instruments.stringsets import sets_for
from shop.instruments.tunings import midi_of, note_name, tunings_for
from shop.lib.quantities import gauge_mm

THINNEST_MM, THICKEST_MM = 0.1, 5.0


class StringForm(forms.Form):
    """One string. Thickness in any unit; the core may stay empty."""

    note = forms.CharField(max_length=6, widget=forms.TextInput({"autocomplete": "off"}))
    material = forms.ChoiceField(choices=Material.choices)
    thickness = forms.CharField(max_length=20, widget=forms.TextInput({"autocomplete": "off"}))
    core = forms.CharField(max_length=20, required=False, widget=forms.TextInput({"autocomplete": "off"}))

    def __init__(self, *args, number, **kwargs):
        super().__init__(*args, prefix=f"string-{number}", **kwargs)
        self.number = number
        for name, field in self.fields.items():
            styled = "form-select" if name == "material" else "form-control"
            field.widget.attrs |= {"aria-label": f"String {number}, {name}", "class": styled}

    def clean_note(self):
        return _read(midi_of, self.cleaned_data["note"])

    def clean_thickness(self):
        return _in_bounds(_read(gauge_mm, self.cleaned_data["thickness"]))

    def clean_core(self):
        text = self.cleaned_data["core"]
        return _in_bounds(_read(gauge_mm, text)) if text else None

    def clean(self):
        found = super().clean()
        whole, core = found.get("thickness"), found.get("core")
        if whole and core and core >= whole:
            self.add_error("core", "The core must be thinner than the whole string.")
        return found


class StringsForm:
    """A StringForm for each string of an instrument, from the highest to the lowest."""

    def __init__(self, instrument, data=None, *, initial=None):
        rows = initial if initial is not None else _as_text(reversed(effective_strings(instrument)))
        self.rows = [StringForm(data, number=number, initial=row) for number, row in enumerate(rows, start=1)]

    def is_valid(self):
        return all(row.is_valid() for row in self.rows)

    @property
    def strings(self):
        """[{number, midi, material, diameter_mm, core_mm}] of valid rows."""
        return [
            {
                "number": row.number, "midi": row.cleaned_data["note"], "material": row.cleaned_data["material"],
                "diameter_mm": row.cleaned_data["thickness"], "core_mm": row.cleaned_data["core"],
            }
            for row in self.rows
        ]  # fmt: skip


class FillForm(forms.Form):
    """The choice of a usual set and tuning that fills the rows in."""

    set = forms.ChoiceField(label="strings", required=False)
    tuning = forms.ChoiceField(required=False)

    def __init__(self, instrument, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.instrument = instrument
        self.sets = {one.key: one for one in sets_for(instrument.kind, instrument.string_count)}
        self.tunings = tunings_for(instrument.kind, instrument.string_count)
        as_now = [("", "as they are below")]
        self.fields["set"].choices = as_now + [(one.key, one.label) for one in self.sets.values()]
        self.fields["tuning"].choices = as_now + [(name, name) for name in self.tunings]

    def rows(self):
        """What the rows hold once the choice is filled in; None when nothing was chosen."""
        chosen = self.sets.get(self.cleaned_data.get("set"))
        tuning = self.tunings.get(self.cleaned_data.get("tuning"))
        if not chosen and not tuning:
            return None
        now = list(reversed(effective_strings(self.instrument)))
        for row, gauge, midi in zip(now, chosen.gauges if chosen else now, tuning or now, strict=True):
            if chosen:
                row |= {"diameter_mm": gauge.diameter_mm, "material": str(gauge.material), "core_mm": None}
            if tuning:
                row["midi"] = midi
        return _as_text(now)


def _as_text(strings):
    return [
        {
            "note": note_name(one["midi"]), "material": one["material"], "thickness": _gauge(one["diameter_mm"]),
            "core": _gauge(one["core_mm"]),
        }
        for one in strings
    ]  # fmt: skip


def _gauge(value_mm):
    """In thousandths of an inch where it is a whole number of them, as sets are sold, else in mm."""
    if value_mm is None:
        return ""
    thousandths = value_mm / 0.0254
    return f"{thousandths / 1000:.3f} in" if abs(thousandths - round(thousandths)) < 0.01 else f"{value_mm:g} mm"


def _read(parse, text):
    try:
        return parse(text)
    except ValueError as problem:
        raise forms.ValidationError(str(problem)) from None


def _in_bounds(value_mm):
    if not THINNEST_MM <= value_mm <= THICKEST_MM:
        raise forms.ValidationError("A string is between 0.1 and 5 mm thick.")
    return value_mm
