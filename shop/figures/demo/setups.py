"""Readings of setups as a bench would write them: how an instrument came, and how it was left."""

import math
import uuid

from django.utils import timezone

from shop.worksheets.learned import Share, learned_for
from shop.worksheets.models import Reading
from shop.worksheets.sheet import Sheet

GAUGES = {"relief": "feeler", "nut_gap": "feeler", "height_12": "height_gauge", "octave": "tuner"}
# (season and room, air humidity in %, temperature in °C)
ROOMS = (("January, heated room", 35.0, 20.0), ("May, windows open", 50.0, 21.0), ("August", 60.0, 26.0),
         ("October", 45.0, 19.0))  # fmt: skip
AIR = (("season", None), ("humidity", None), ("temperature", None))
CRESTS = {"two_post_stop": 15.0, "flat_plate": 11.5, "vibrato": 11.0, "floating": 24.0, "pinned": 13.0, "tied": 12.5}
STUDS = 4.0
# How far the invented strings' ends are clamped, so that octaves and saddles belong together: `worksheets.learned`.
ENDS = {"flat_plate": 0.1}
USUAL_ENDS = 0.5
# What is left of the screw for a crest that stands foremost, and how far facing carries a crest from its middle, mm.
ROOM, TURN = {"flat_plate": 7.5}, 1.0
USUAL_ROOM = 6.0


def left(worksheet, chance):
    """Readings of a setup that is right, as {(key, string): value}: mid-range, a little different each time."""
    sheet, near = Sheet.of(worksheet), chance.gauss
    crest, studs = CRESTS[worksheet.family] + near(0, 0.1), STUDS + near(0, 0.2)
    values = {("relief", None): _middle(sheet.target("relief")) + near(0, 0.02),
              ("crest_height_bass", None): crest, ("crest_height_treble", None): crest + near(0, 0.05),
              ("stud_bass", None): studs, ("stud_treble", None): studs + near(0, 0.05)}  # fmt: skip
    for number in sheet.numbers:
        values["height_12", number] = _middle(sheet.target("height_12", number)) + near(0, 0.02)
        values["nut_gap", number] = _middle(sheet.target("nut_gap")) + near(0, 0.01)
        values["octave", number] = near(0, 0.3)
    return values


def _middle(ends):
    return sum(ends) / 2


def received(worksheet, good, chance):
    """(readings, how far back each crest stood from its true place, mm) of the same instrument as it came.

    Higher, bent, and its saddles off: the octaves are what the strings make of it.
    """
    values, rise = dict(good), chance.uniform(0.35, 0.9)
    numbers = [one["number"] for one in worksheet.strings]
    values["relief", None] += chance.uniform(0.12, 0.3)
    for number in numbers:
        values["height_12", number] += rise + chance.uniform(-0.05, 0.05)
    off = _off(worksheet, chance)
    stretched = _behind(worksheet, values) - _behind(worksheet, good)
    for number, mm, more in zip(numbers, off, stretched, strict=True):
        values["octave", number] = good["octave", number] + (more - mm) / _mm_per_cent(worksheet)
    return values, off


def _off(worksheet, chance):
    """How far back each crest stands from its true place: by itself, or all with the two ends of their bridge."""
    count, along = len(worksheet.strings), worksheet.family_plan.along
    if along.form == "ends":
        bass, treble = (chance.choice((-1, 1)) * chance.uniform(0.6, 2.0) for _ in range(2))
        return [bass + (treble - bass) * at / (count - 1) for at in range(count)]
    if along.words == "top":
        return [chance.choice((-1, 1)) * chance.uniform(0.2, 1.2) for _ in range(count)]
    return [chance.choice((-1, 1)) * chance.uniform(0.6, 2.2) for _ in range(count)]


def _behind(worksheet, values):
    """How far the crests have to stand behind that of the highest string at these heights, bass to treble, mm."""
    readings = [Reading(stage="left", key=key, string=string, value=value) for (key, string), value in values.items()
                if key in ("height_12", "nut_gap", "relief")]  # fmt: skip
    share = Share(ENDS.get(worksheet.family, USUAL_ENDS), 0.0, 0.0, 0.0, ())
    return learned_for(Sheet.of(worksheet, readings=readings), share)[0]


def _mm_per_cent(worksheet):
    return worksheet.spec["scale_bass_mm"]["value"] * math.log(2) / 1200


def answers(worksheet):
    """Everything is as it should be: each question is answered with yes, each string rings clean."""
    fields = [field for step in worksheet.family_plan.steps for field in step.fields]
    yes = {(field.key, None): 1.0 for field in fields if field.unit == "yes_no"}
    return yes | {("fret_play", one["number"]): 0.0 for one in worksheet.strings}


def true_rooms(worksheet, good, chance):
    """{string: how far its saddle can go back with a true octave, mm}; for each instrument a little different."""
    numbers = [one["number"] for one in worksheet.strings]
    turns = [0.0] * len(numbers)
    if worksheet.family_plan.any_field("saddle_facing"):
        turns = [-TURN if _faces_front(numbers, number) else TURN for number in numbers]
    room = ROOM.get(worksheet.family, USUAL_ROOM)
    return {number: room + turn - back + chance.gauss(0, 0.15)
            for number, turn, back in zip(numbers, turns, _behind(worksheet, good), strict=True)}  # fmt: skip


def _faces_front(numbers, number):
    """The upper half of the saddles."""
    return number <= len(numbers) // 2


def saddles(true, off=()):
    """Which way the saddles face, and what is left of their screws with the crests so far `off`, back."""
    faces = {("saddle_facing", number): float(_faces_front(list(true), number)) for number in true}
    off = off or [0.0] * len(true)
    return faces | {("saddle_room_back", number): max(room - mm, 0.2)
                    for (number, room), mm in zip(true.items(), off, strict=True)}  # fmt: skip


# Sheets under way, and what is wrong, as it came, with those that teach most: changed values, changed specification.
STORIES = {
    "under way": ({}, {}),
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
