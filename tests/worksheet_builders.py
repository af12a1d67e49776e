"""Worksheets for the tests: plain sheets without a database, and worksheets on an order. All values are invented."""

import itertools
import uuid

from django.utils import timezone

from shop.instruments.specification import fields_for
from shop.orders import services as orders
from shop.orders.models import WorkOrder
from shop.orders.states import State
from shop.staff.models import Branch
from shop.worksheets import profiles
from shop.worksheets.families import family_for
from shop.worksheets.models import Reading, Standing, StepMark, Worksheet
from shop.worksheets.sheet import Sheet

# A light set for six strings in the usual tuning, bass to treble: (number, midi, material, whole, core), mm.
SIX = (
    (6, 40, "wound_nickel", 1.17, 0.46),
    (5, 45, "wound_nickel", 0.91, 0.41),
    (4, 50, "wound_nickel", 0.66, 0.36),
    (3, 55, "plain_steel", 0.43, None),
    (2, 59, "plain_steel", 0.33, None),
    (1, 64, "plain_steel", 0.25, None),
)
BASS_FOUR = (
    (4, 28, "wound_nickel", 2.67, 1.10),
    (3, 33, "wound_nickel", 2.16, 0.90),
    (2, 38, "wound_nickel", 1.65, 0.70),
    (1, 43, "wound_nickel", 1.14, 0.50),
)
COUNT = itertools.count(1)


def strings(rows=SIX):
    names = ("number", "midi", "material", "diameter_mm", "core_mm")
    return [dict(zip(names, row, strict=True), assumed=False) for row in rows]


def spec(family="two_post_stop", kind="electric", **values):
    """Every field of the family with its usual value, measured; `values` change single ones (None: not known)."""
    known = {one.key: {"value": one.typical_for(kind), "assumed": False} for one in fields_for(family)}
    return known | {key: {"value": value, "assumed": False} for key, value in values.items()}


def snapshot(**fields):
    """The snapshots of a worksheet, as `start_worksheet` would take them."""
    targets = {key: list(pair) for key, pair in profiles.ELECTRIC.items()}
    family = fields.setdefault("family", "two_post_stop")
    return {
        "stringing": "through", "profile_name": "Electric, usual", "targets": targets, "spec": spec(family),
        "strings": strings(), "threads": {"post": "M4", "stud": "M8", "saddle": "M3"}, "reference_pitch_hz": 440.0,
    } | fields  # fmt: skip


def sheet(values=None, *, marks=None, gauges=None, **fields):
    """A plain sheet. `values` maps 'relief', 'height_12:6', 'left.octave:1' or 'received.relief' to a value.

    A list of values is a series. Without a stage before the dot it was read at the bench.
    """
    worksheet = Worksheet(**snapshot(**fields))
    readings = [reading(worksheet, name, value, gauges) for name, value in _spread(values or {})]
    return Sheet.of(worksheet, readings=readings, marks=marks or {})


def _spread(values):
    return [(name, one) for name, value in values.items() for one in (value if isinstance(value, list) else [value])]


def reading(worksheet, name, value, gauges=None):
    """One unsaved reading at the place that `name` says."""
    stage, dot, rest = name.rpartition(".")
    key, _, string = rest.partition(":")
    stage = stage if dot else "bench"
    return Reading(
        pk=next(COUNT), client_id=uuid.uuid4(), stage=stage, step=step_reading(worksheet.family, key, stage), key=key,
        string=int(string) if string else None, raw=str(value), value=value, gauge=(gauges or {}).get(key, ""),
        standing=Standing.HOLDS, at=timezone.now(),
    )  # fmt: skip


def step_reading(family, key, stage):
    """The first step of the family that reads `key` at that stage."""
    for step in family_for(family).steps:
        for field in step.fields:
            if (field.key, field.stage) == (key, stage):
                return step.key
    raise LookupError(f"{family} reads no {key} at {stage}")


def six(key, values):
    """Values for strings 6 to 1: {'octave:6': …, …}."""
    return {f"{key}:{number}": value for number, value in zip(range(6, 0, -1), values, strict=True)}


def at_bench(instrument, by, **fields):
    """An order that is on the bench."""
    now = timezone.now()
    fields.setdefault("state", State.ON_BENCH)
    fields.setdefault("branch", Branch.first())
    return WorkOrder.objects.create(
        number=f"T-{next(COUNT):05d}", customer=instrument.customer, instrument=instrument, complaint="Buzzes.",
        booked_at=now, booked_by=by, state_since=now, **fields,
    )  # fmt: skip


def worksheet(order, by, **fields):
    """An open worksheet of `order` with a measured specification; it holds nothing."""
    return Worksheet.objects.create(order=order, started_at=timezone.now(), started_by=by, **snapshot(**fields))


def store(sheet_row, by, values):
    """Write readings of a stored worksheet straight into the database, as `sheet` names them."""
    for name, value in _spread(values):
        one = reading(sheet_row, name, value)
        one.pk, one.worksheet, one.by = None, sheet_row, by
        one.save(force_insert=True)


def mark_all(sheet_row, by, *, but=()):
    """Mark every step done but those named."""
    for step in sheet_row.family_plan.steps:
        if step.key not in but:
            StepMark.objects.create(worksheet=sheet_row, step=step.key, state="done", at=timezone.now(), by=by)


GOOD = {
    "relief": 0.2, "crest_height_bass": 15.0, "crest_height_treble": 15.0, "stud_bass": 4.0, "stud_treble": 4.0,
    **six("height_12", [1.85, 1.77, 1.69, 1.61, 1.53, 1.45]), **six("octave", [0.3, -0.2, 0.1, 0.4, 0.0, -0.3]),
}  # fmt: skip


def good_values(**changes):
    """Readings of a setup that is right in every respect: as received, at the bench and as left."""
    values = {f"{stage}.{name}": value for stage in ("received", "left") for name, value in GOOD.items()}
    values |= six("nut_gap", [0.15] * 6) | six("saddle_facing", [0.0] * 3 + [1.0] * 3) | six("fret_play", [0.0] * 6)
    answered = ("strings_fitted", "strings_stretched", "saddles_seated", "hardware_tight", "bridge_upright")
    return values | dict.fromkeys(answered, 1.0) | {"left.cleaned": 1.0} | changes


def finished(order, by, **changes):
    """A worksheet ready to be signed: read in every place, every step marked, the order held by it."""
    made = worksheet(order, by)
    store(made, by, good_values(**changes))
    mark_all(made, by)
    orders.hold(order, key=f"worksheet:{made.pk}", reason="a worksheet is not signed off")
    return made
