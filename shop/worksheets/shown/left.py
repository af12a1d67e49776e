"""How an instrument was left: the last values as a table, and each over the years as a small chart."""

from dataclasses import dataclass

from shop.worksheets import profiles, queries
from shop.worksheets.drawings import history_chart
from shop.worksheets.families import family_for
from shop.worksheets.shown.short import short, unit_words
from shop.worksheets.wording.said import Said

# The readings whose course over the years tells something, in the order in which a craftsman asks.
OVER_THE_YEARS = ("relief", "height_12", "nut_gap", "octave")


@dataclass(frozen=True)
class LeftRow:
    label: str
    values: tuple  # (string or None, text), bass to treble


@dataclass(frozen=True)
class LastLeft:
    at: object
    worksheet_id: int
    rows: tuple


def last_left_rows(instrument, *, unit, before=None):
    """The last as-left values, a row a reading; None when it was never left here."""
    return _rows(instrument, queries.last_left(instrument, before=before), unit)


def newest_left_rows(instrument, history, *, unit):
    """The same from the values over the years, of the last visit that has any. Asks the database nothing."""
    values = [one for place in history.values() for one in place]
    last = max(values, key=lambda one: (one.at, one.worksheet_id), default=None)
    return _rows(instrument, {(one.key, one.string): one for one in values
                              if last and one.worksheet_id == last.worksheet_id}, unit)  # fmt: skip


def _rows(instrument, last, unit):
    if not last:
        return None
    family, said = family_for(instrument.family), Said(unit)
    rows = {}
    for (key, string), one in last.items():
        field = family.any_field(key) if family else None
        if field is not None and field.is_number:
            # Values of a row stand close together: their unit is said once, with the row's name.
            text = short(said, one.value, field.unit) if string else said.value(one.value, field.unit)
            rows.setdefault(key, (field, []))[1].append((string, text))
    first = next(iter(last.values()))
    made = tuple(LeftRow(_label(field, said), tuple(sorted(values, key=lambda one: -(one[0] or 0))))
                 for field, values in rows.values())  # fmt: skip
    return LastLeft(first.at, first.worksheet_id, made)


def _label(field, said):
    return f"{field.label}, {unit_words(field.unit, said)}" if field.per == "string" else field.label


def charts(instrument, history, *, unit):
    """One chart for relief and one for each outer string of the others, where two visits or more can be compared."""
    family = family_for(instrument.family)
    wanted = [(key, string) for key in OVER_THE_YEARS for string in _outer(history, key)]
    wanted = [place for place in wanted if len(history[place]) > 1]
    if family is None or not wanted:
        return []
    targets = profiles.usual_targets(instrument.kind)
    return [_chart(family.any_field(key), key, string, history[key, string], targets, unit) for key, string in wanted]


def _outer(history, key):
    strings = sorted({string for name, string in history if name == key}, key=lambda one: -(one or 0))
    return strings if len(strings) < 2 else [strings[0], strings[-1]]


def _chart(field, key, string, values, targets, unit):
    side = "bass" if (string or 0) > 1 else "treble"
    low, high = targets.get(key) or targets.get(f"{key}_{side}") or (None, None)
    label = f"{field.label}, string {string}" if string else field.label
    return history_chart(name=f"{key}-{string or 'all'}", label=label, points=[(one.at, one.value) for one in values],
                         low=low, high=high, unit=field.unit, said=Said(unit))  # fmt: skip
