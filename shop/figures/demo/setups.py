"""Readings of setups as a bench would write them: how an instrument came, and how it was left."""

import uuid

from django.utils import timezone

from shop.worksheets.models import Reading

# A setup that is right: bass to treble, millimetres and cents.
HEIGHTS = (1.85, 1.77, 1.69, 1.61, 1.53, 1.45)
OCTAVES = (0.3, -0.2, 0.1, 0.4, 0.0, -0.3)
GAUGES = {"relief": "feeler", "nut_gap": "feeler", "height_12": "height_gauge", "octave": "tuner"}
# (season and room, air humidity in %, temperature in °C)
ROOMS = (("January, heated room", 35.0, 20.0), ("May, windows open", 50.0, 21.0), ("August", 60.0, 26.0),
         ("October", 45.0, 19.0))  # fmt: skip
AIR = (("season", None), ("humidity", None), ("temperature", None))


def left(chance):
    """Readings of a setup that is right, as {(key, string): value}; a little different each time."""
    near = chance.gauss
    values = {("relief", None): 0.20 + near(0, 0.02), ("crest_height_bass", None): 15.0 + near(0, 0.1),
              ("crest_height_treble", None): 15.0 + near(0, 0.1)}  # fmt: skip
    studs = 4.0 + near(0, 0.2)
    values |= {("stud_bass", None): studs, ("stud_treble", None): studs + near(0, 0.05)}
    values |= {("height_12", 6 - i): one + near(0, 0.02) for i, one in enumerate(HEIGHTS)}
    values |= {("octave", 6 - i): one + near(0, 0.2) for i, one in enumerate(OCTAVES)}
    values |= {("nut_gap", number): 0.15 + near(0, 0.01) for number in range(1, 7)}
    return values


def received(chance):
    """The same instrument as it came: higher, bent, and out at the octave."""
    values = left(chance)
    rise = chance.uniform(0.35, 0.9)
    for (key, string), value in list(values.items()):
        if key == "height_12":
            values[key, string] = value + rise + chance.uniform(-0.05, 0.05)
        elif key == "octave":
            values[key, string] = value + chance.choice((-1, 1)) * chance.uniform(1.5, 7)
        elif key == "relief":
            values[key, string] = value + chance.uniform(0.12, 0.3)
    return values


FACING = {("saddle_facing", number): float(number <= 3) for number in range(1, 7)}
PLAYED = {("fret_play", number): 0.0 for number in range(1, 7)}
ANSWERS = {(key, None): 1.0 for key in ("strings_fitted", "strings_stretched", "saddles_seated", "hardware_tight",
                                        "bridge_upright", "cleaned")}  # fmt: skip
def room_back(chance):
    """How far each saddle can still go back: usual for the strings, and for each instrument a little different."""
    return {("saddle_room_back", number): 3.0 + 0.3 * number + chance.gauss(0, 0.2) for number in range(1, 7)}



# What is wrong, as it came, with the three instruments that teach most: changed values, changed specification.
STORIES = {
    "rear edge": (
        {("stud_bass", None): 1.0, ("stud_treble", None): 1.0},
        {"edge_below_crest_mm": 1.2},
    ),
    "empty window": (
        {},
        {"neck_tilt_deg": 0.5, "edge_below_crest_mm": 0.9, "edge_behind_crest_mm": 8.0},
    ),
    "saddle cannot reach": (
        {("octave", 6): 15.0, ("saddle_room_back", 6): 1.0, ("saddle_facing", 6): 0.0},
        {},
    ),
}


def write(worksheet, stage, values, *, by, steps=None):
    """Write `values` at every place of `stage` that the family reads, in the steps named (None: all)."""
    rows = []
    for step in worksheet.family_plan.steps:
        if steps is not None and step.key not in steps:
            continue
        for field in step.fields:
            if field.stage == stage:
                rows += [_row(worksheet, step, field, string, value, by)
                         for (key, string), value in values.items() if key == field.key]  # fmt: skip
    Reading.objects.bulk_create(rows)


def _row(worksheet, step, field, string, value, by):
    is_text = isinstance(value, str)
    value = value if is_text else round(value, 2)
    return Reading(
        worksheet=worksheet, client_id=uuid.uuid4(), stage=field.stage, step=step.key, key=field.key, string=string,
        raw=_as_written(field, value), value=None if is_text else value, gauge=GAUGES.get(field.key, ""),
        at=timezone.now(), by=by,
    )  # fmt: skip


def _as_written(field, value):
    if field.unit == "choice":
        return field.choices[int(value)][0]
    if field.unit == "yes_no":
        return "yes" if value else "no"
    return value if isinstance(value, str) else f"{value:g}"
