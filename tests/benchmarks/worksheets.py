"""The same worksheets as arrays for `geometry.checks` and as plain numbers for the loop, and their answers compared."""

import numpy as np

from geometry.checks import check_sheets
from geometry.neck import Neck
from tests import geometry_cast

# Fields of the sheet's dict by the record that holds them; the crest over the top is not the crest over the frets.
RENAMED = {("readings", "crest_mm"): "top_crest_mm"}


def given(count, seed=0):
    """`count` random worksheets, with readings missing here and there, as the arguments of `check_sheets`."""
    cast = geometry_cast
    return cast.many_readings(count, seed), cast.record(), cast.targets(), cast.standards()


def plain(readings, record, targets, standards):
    """The worksheets as a list of dicts of floats and lists of floats."""
    count = len(readings.relief_mm)
    table = {}
    parts = {"readings": readings, "record": record, "targets": targets}
    for part, kind in parts.items():
        for name, value in vars(kind).items():
            if not isinstance(value, Neck):
                table[RENAMED.get((part, name), name)] = _rows(value, name in kind.PER_STRING, count)
    for name, value in vars(record.neck).items():
        table[name] = _rows(value, name in Neck.PER_STRING, count)
    for name, value in vars(standards).items():
        table[f"u_{name}"] = _rows(value.ravel()[0], False, count)
    for name in ("nut_gap_low_mm", "nut_gap_high_mm"):
        table[name] = [row[0] for row in table[name]]
    return [{"strings": 6, **{name: rows[i] for name, rows in table.items()}} for i in range(count)]


def _rows(value, per_string, count):
    shape = (count, 6) if per_string else (count,)
    return np.broadcast_to(value, shape).tolist()


def differences(found, sheets):
    """Largest difference of each number from the plain answers' over all sheets; NaN against a number is infinite."""
    table = {}

    def compare(name, ours, theirs):
        ours, theirs = np.asarray(ours, dtype=float), np.array(theirs, dtype=float)
        same = (ours == theirs) | (np.isnan(ours) & np.isnan(theirs))
        with np.errstate(invalid="ignore"):
            apart = np.where(same, 0.0, np.abs(ours - theirs))
        table[name] = float(np.where(np.isnan(apart), np.inf, apart).max())

    for name in ("nut_mm", "nut_standard_mm", "crest_mm", "crest_standard_mm", "load_n", "post_bass_n",
                 "post_treble_n"):
        compare(name, getattr(found, name), [one[name] for one in sheets])
    for name in ("arch", "window"):
        for field, value in vars(getattr(found, name)).items():
            compare(f"{name}.{field}", value, [one[name][field] for one in sheets])
    for place, name in ((0, "path"), (2, "path_standard")):
        for field, value in vars(getattr(found, name)).items():
            compare(f"{name}.{field}", value, [[string[place][field] for string in one["strings"]] for one in sheets])
    forces = {**vars(found.force), **{
        name: getattr(found, name)
        for name in ("tension_n", "resultant_standard_n", "holding_n", "pluck_side_n", "capstan_cents")
    }}  # fmt: skip
    octave = {**vars(found.reach), **{
        name: getattr(found, name) for name in ("octave_move_mm", "octave_move_standard_mm")
    }}  # fmt: skip
    for part, fields in (("forces", forces), ("octave", octave)):
        for field, value in fields.items():
            compare(f"{part}.{field}", value, [[string[field] for string in one[part]] for one in sheets])
    for place, field in enumerate(("lower_mm", "upper_mm", "lower_by", "upper_by")):
        theirs = [[string[place] for string in one["bounds"]] for one in sheets]
        compare(f"bounds.{field}", getattr(found.bounds, field), theirs)
    for name in sheets[0]["verdicts"]:
        answers = np.array([one["verdicts"][name] for one in sheets])
        for place, field in enumerate(("verdict", "margin", "probability")):
            compare(f"{name}.{field}", getattr(getattr(found, name), field), answers[..., place])
    return table


def compared_names():
    """Every number that `check_sheets` answers, as `differences` names them."""
    found = check_sheets(*given(1))
    return set(vars(found))
