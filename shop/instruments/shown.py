"""The specification and the strings as pages show them."""

from dataclasses import dataclass
from itertools import groupby

from shop.instruments.effective import effective_strings, measured
from shop.instruments.kinds import Material
from shop.instruments.specification import SpecField, fields_for
from shop.instruments.tunings import note_name
from shop.lib.quantities import shown_gauge, shown_number


@dataclass(frozen=True)
class Row:
    """One value. `text` is what is measured or, while `is_assumed`, what is typical.

    `past` are (SpecValue, its text), the newest first.
    """

    field: SpecField
    text: str
    typical: str
    is_assumed: bool
    measured: object  # the SpecValue, or None
    past: tuple = ()


def specification(instrument, *, unit, with_history=False):
    """[(where it is measured, its Rows)] in the order in which one measures."""
    known = measured(instrument)
    past = _past(instrument, unit) if with_history else {}
    rows = [_row(one, instrument, known.get(one.key), past.get(one.key, ()), unit)
            for one in fields_for(instrument.family, instrument.string_count)]  # fmt: skip
    return [(place, list(group)) for place, group in groupby(rows, key=lambda row: row.field.place)]


def _row(field, instrument, row, past, unit):
    typical = shown_number(field.typical_for(instrument.kind, instrument.string_count), field.unit, unit)
    text = shown_number(row.value, field.unit, unit) if row else typical
    return Row(field, text, typical, row is None, row, tuple(past))


def _past(instrument, unit):
    """{key: [(what was written, as it is shown), …]}, the newest first."""
    units = {one.key: one.unit for one in fields_for(instrument.family, instrument.string_count)}
    found = {}
    for row in instrument.spec_values.select_related("by"):
        shown = shown_number(row.value, units.get(row.key, "none"), unit) or "not known any more"
        found.setdefault(row.key, []).append((row, shown))
    return found


def strings(instrument):
    """The strings for a table, from the lowest, as they lie under the eye: number, note, material, gauge, assumed."""
    return [
        {
            "number": one["number"], "note": note_name(one["midi"]), "material": Material(one["material"]).label,
            "gauge": shown_gauge(one["diameter_mm"]), "core": shown_gauge(one["core_mm"]), "assumed": one["assumed"],
        }
        for one in effective_strings(instrument)
    ]  # fmt: skip
