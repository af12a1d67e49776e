"""An instrument as its page shows it."""

from types import SimpleNamespace

from shop.instruments.effective import effective_spec, effective_strings, measured
from shop.instruments.models import InstrumentString
from shop.instruments.specification import fields_for
from shop.instruments.stringsets import BY_KEY, sets_for
from shop.instruments.tunings import note_name, usual_tuning
from shop.lib.quantities import shown_gauge, shown_number


def specification(instrument, length_unit):
    """Rows of the specification: label, the value as said, and the SpecValue it rests on (None: assumed)."""
    known, effective = measured(instrument), effective_spec(instrument)
    return [
        {
            "label": one.label,
            "value": shown_number(effective[one.key]["value"], one.unit, length_unit),
            "measured": known.get(one.key),
        }
        for one in fields_for(instrument.family)
    ]


def strings(instrument):
    """Rows of the strings, from string 1 on."""
    return [
        {
            "number": one["number"],
            "note": note_name(one["midi"]),
            "thickness": shown_gauge(one["diameter_mm"]),
            "material": dict(InstrumentString._meta.get_field("material").choices)[one["material"]],
            "assumed": one["assumed"],
        }
        for one in sorted(effective_strings(instrument), key=lambda row: row["number"])
    ]


def sets(instrument):
    """The usual string sets that fit."""
    return sets_for(instrument.kind, instrument.string_count)


def picked_set(instrument, key):
    """Something that has the strings of the set `key`, for the form to be filled from; None if there is no such set."""
    chosen = BY_KEY.get(key)
    if chosen is None or chosen.count != instrument.string_count:
        return None
    notes = [one["midi"] for one in sorted(effective_strings(instrument), key=lambda row: row["number"])]
    usual = usual_tuning(instrument.kind, instrument.string_count)
    rows = [
        InstrumentString(number=number, midi=note or other, material=gauge.material, diameter_mm=gauge.diameter_mm)
        for number, (note, other, gauge) in enumerate(zip(notes, usual, chosen.gauges, strict=True), start=1)
    ]
    return SimpleNamespace(
        kind=instrument.kind, string_count=instrument.string_count, strings=SimpleNamespace(all=lambda: rows)
    )
