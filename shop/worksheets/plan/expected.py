"""A worksheet as it should read after a move. Nothing is stored: the readings are copies."""

import copy
from dataclasses import replace

from shop.worksheets.checks.bench import Bench
from shop.worksheets.model.tail import OUTER, STUDS

ON_GAPS = {*OUTER, *STUDS, "crest_to_edge", "saddle_room_back", "saddle_facing"}


def after(sheet, values, *, shifts=None, spec=None):
    """The sheet with other values where it was read.

    `values` maps (key, string or None) to what will be read, `shifts` to what is added to every reading of a series,
    `spec` a key of the record to its value. A place that was not read stays unread.
    """
    changed = _with_values(sheet, values, shifts or {}, spec or {})
    return _with_gaps(sheet, changed) if any(key in ON_GAPS for key, _ in values) else changed


def _with_values(sheet, values, shifts, spec):
    readings = tuple(_copied(sheet, one, values, shifts) for one in sheet.readings)
    known = {key: {**sheet.spec.get(key, {}), "value": value} for key, value in spec.items()}
    return replace(sheet, readings=readings, spec=sheet.spec | known)


def _copied(sheet, reading, values, shifts):
    place = (reading.key, reading.string)
    if reading.value is None:
        return reading
    if place in values and reading is sheet.now(*place):
        value = values[place]
    elif place in shifts:
        value = reading.value + shifts[place]
    else:
        return reading
    field = sheet.family.any_field(reading.key)
    taken = copy.copy(reading)
    # A string that would lie on the fret reads nothing, not less than nothing.
    taken.value = min(max(value, field.low), field.high) if field.is_number else value
    return taken


def _with_gaps(before, changed):
    """A gap over the rear edge that was read goes along with the string: the edge itself stays where the gap told."""
    read = [number for number in before.numbers if before.value("edge_gap", number) is not None]
    was = Bench(before, None).part("tail") if read else None
    if was is None:
        return changed
    gaps = {("edge_gap", number) for number in read}
    bare = replace(changed, readings=tuple(one for one in changed.readings if (one.key, one.string) not in gaps))
    now = Bench(bare, None).part("tail")
    if now is None:
        return bare
    clear = now.path.clearance_mm + was.edge_below - now.edge_below
    values = {("edge_gap", number): max(float(clear[before.numbers.index(number)]), 0.0) for number in read}
    return _with_values(changed, values, {}, {})


def after_saddles(sheet, octaves, rooms, facings):
    """The sheet once the crests have been moved along: one octave and one place of each saddle, as if read anew."""
    moved = {("octave", number) for number in octaves} | {("saddle_room_back", number) for number in rooms}
    newest = {place: sheet.now(*place) for place in moved}
    old = [one for one in sheet.readings if (one.key, one.string) in moved and one is not newest[one.key, one.string]]
    rest = [one for one in sheet.readings if not any(one is other for other in old)]
    # The travel is read before the octave, so that neither says that the saddle moved after the other.
    ordered = sorted(rest, key=lambda one: (one.key == "octave", one.pk))
    fresh = tuple(_numbered(one, count) for count, one in enumerate(ordered, start=1))
    values = {("octave", number): value for number, value in octaves.items()}
    values |= {("saddle_room_back", number): value for number, value in rooms.items()}
    values |= {("saddle_facing", number): value for number, value in facings.items()}
    values |= _edges(sheet, rooms, facings)
    return after(replace(sheet, readings=fresh), values)


def _numbered(reading, count):
    taken = copy.copy(reading)
    taken.pk = count
    return taken


def _edges(sheet, rooms, facings):
    """The way from crest to rear edge, where it was read, changes as the saddle goes."""
    turn = sheet.spec_value("saddle_turn_mm") or 0.0
    found = {}
    for number, room in rooms.items():
        read, was = sheet.value("crest_to_edge", number), sheet.value("saddle_room_back", number)
        if read is not None and was is not None:
            turned = turn * (1.0 if facings.get(number) == 1 else -1.0) if number in facings else 0.0
            found[("crest_to_edge", number)] = max(read - (was - room) + turned, 0.3)
    return found
