"""What is known of an instrument, with what is typical where nobody has measured: as worksheets take it over.

Both answers are plain data that JSON can keep. What rests on a typical value says so: `assumed` is true.
"""

from shop.instruments.specification import fields_for
from shop.instruments.stringsets import sets_for
from shop.instruments.tunings import usual_tuning


def measured(instrument):
    """{key: its newest SpecValue}, values given up again (None) left out. One query."""
    newest = {}
    for one in sorted(instrument.spec_values.select_related("by"), key=lambda row: row.pk):
        newest[one.key] = one
    return {key: one for key, one in newest.items() if one.value is not None}


def effective_spec(instrument):
    """{key: {"value": float | None, "assumed": bool}} for every field of the instrument's bridge family.

    Lengths are in mm, angles in degrees. None only where nothing is typical either.
    """
    known = measured(instrument)
    return {
        one.key: {"value": known[one.key].value, "assumed": False}
        if one.key in known
        else {"value": one.typical_for(instrument.kind, instrument.string_count), "assumed": True}
        for one in fields_for(instrument.family, instrument.string_count)
    }


def effective_strings(instrument):
    """One dict a string, lowest string first: number, midi, material, diameter_mm, core_mm, assumed.

    A string that nobody wrote down is the one of the usual set, assumed; note and diameter are None where no set
    is usual for so many strings. Number 1 is the highest string.
    """
    fitted = {one.number: one for one in instrument.strings.all()}
    usual = _usual_strings(instrument.kind, instrument.string_count)
    return [
        _as_dict(fitted[number]) if number in fitted else usual[number]
        for number in range(instrument.string_count, 0, -1)
    ]


def _as_dict(string):
    names = ("number", "midi", "material", "diameter_mm", "core_mm", "assumed")
    return {name: getattr(string, name) for name in names}


def _usual_strings(kind, count):
    notes = usual_tuning(kind, count)
    sets = sets_for(kind, count)
    gauges = sets[0].gauges if sets else [None] * count
    return {
        number: {
            "number": number, "midi": midi, "material": str(gauge.material) if gauge else "plain_steel",
            "diameter_mm": gauge.diameter_mm if gauge else None, "core_mm": None, "assumed": True,
        }
        for number, midi, gauge in zip(range(1, count + 1), notes, gauges, strict=True)
    }  # fmt: skip
