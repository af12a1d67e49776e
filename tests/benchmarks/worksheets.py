"""The same worksheets as arrays for `geometry.checks` and as plain numbers for the loop, and their answers compared."""

import numpy as np

from geometry.neck import Neck
from tests import geometry_cast as cast

STRINGS = 6


def given(count, seed=0):
    """`count` random worksheets, each of an instrument of its own, with readings missing here and there."""
    random = np.random.default_rng(seed)

    def varied(value):
        value = np.asarray(value, dtype=float)
        return value * random.uniform(0.97, 1.03, (count, *value.shape))

    neck, record = cast.neck(), cast.record()
    own_neck = {name: varied(value) for name, value in vars(neck).items() if name != "end_fret"}
    own = {
        name: varied(getattr(record, name))
        for name in (
            "post_span_mm", "stud_span_mm", "neck_tilt_rad", "run_mm", "edge_behind_mm", "edge_below_mm",
            "above_stud_mm", "mass_kg_per_m", "frequency_hz", "groove_half_angle_rad", "friction",
        )
    }  # fmt: skip
    record = cast.record(neck=Neck(**own_neck, end_fret=random.integers(20, 25, count).astype(float)), **own)
    return cast.many_readings(count, seed), record, cast.targets(), cast.standards()


def plain(readings, record, targets, standards):
    """The worksheets as dicts of floats and lists of floats; the crest over the top gets a name of its own."""
    count, table = len(readings.relief_mm), {}
    for kind in (readings, record, targets, record.neck):
        for name, value in vars(kind).items():
            if not isinstance(value, Neck):
                shape = (count, STRINGS) if name in kind.PER_STRING else (count,)
                table["top_crest_mm" if name == "crest_mm" else name] = np.broadcast_to(value, shape).tolist()
    for name, value in vars(standards).items():
        table[f"u_{name}"] = [float(value.ravel()[0])] * count
    return [{"strings": STRINGS, **{name: rows[i] for name, rows in table.items()}} for i in range(count)]


def differences(found, sheets):
    """Largest difference of each number of the package's answer from the loop's; infinite where one alone is NaN."""
    table = {}

    def compare(name, ours, theirs):
        ours, theirs = np.asarray(ours, dtype=float), np.array(theirs, dtype=float)
        same = (ours == theirs) | (np.isnan(ours) & np.isnan(theirs))
        with np.errstate(invalid="ignore"):
            apart = np.where(same, 0.0, np.abs(ours - theirs))
        table[name] = float(np.where(np.isnan(apart), np.inf, apart).max())

    single = ("nut_mm", "nut_standard_mm", "crest_mm", "crest_standard_mm", "load_n", "post_bass_n", "post_treble_n")
    for name in single:
        compare(name, getattr(found, name), [one[name] for one in sheets])
    for part in ("path", "path_standard", "bounds"):
        for field, value in vars(getattr(found, part)).items():
            compare(f"{part}.{field}", value, [[getattr(string, field) for string in one[part]] for one in sheets])
    for part in ("arch", "window"):
        for field, value in vars(getattr(found, part)).items():
            if not field.startswith("limit_"):
                compare(f"{part}.{field}", value, [one[part][field] for one in sheets])
    # Two bounds meet at the best setting, and rounding says which is named first: each must leave the least room.
    for field, side in (("limit_lower", "lower_room_mm"), ("limit_upper", "upper_room_mm")):
        rooms = np.array([one["window"][side] for one in sheets])
        named = np.take_along_axis(rooms, getattr(found.window, field)[:, None], axis=1)[:, 0]
        compare(f"window.{field}", named, [one["window"]["room_mm"] for one in sheets])
    _compare_strings(compare, found, sheets)
    return table


def _compare_strings(compare, found, sheets):
    forces = ("tension_n", "resultant_standard_n", "holding_n", "pluck_side_n", "capstan_cents")
    moves = ("octave_move_mm", "octave_move_standard_mm")
    for part, record, names in (("forces", found.force, forces), ("octave", found.reach, moves)):
        for field, value in (vars(record) | {name: getattr(found, name) for name in names}).items():
            compare(f"{part}.{field}", value, [[string[field] for string in one[part]] for one in sheets])
    for name in sheets[0]["verdicts"]:
        answers = [one["verdicts"][name] for one in sheets]
        for field in ("verdict", "margin", "probability"):
            theirs = [
                [getattr(one, field) for one in row] if isinstance(row, list) else getattr(row, field)
                for row in answers
            ]
            compare(f"{name}.{field}", getattr(getattr(found, name), field), theirs)
