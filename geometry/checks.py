"""Every check of a worksheet of a two-post bridge with a stop tailpiece in one call: one sheet or a hundred thousand.

Nothing is worked out here that another file of the package does not do; this is the order in which they are called.
"""

from dataclasses import dataclass

import numpy as np

from geometry.arch import ArchFit, fit_arch
from geometry.batching import in_chunks
from geometry.bridge import lever
from geometry.derived_uncertainty import (
    TailStandard,
    force_standard_n,
    move_standard_mm,
    tail_standard,
)  # fmt: skip
from geometry.errors import as_count
from geometry.exits import ExitBounds, exit_bounds
from geometry.force import (
    SaddleForce,
    capstan_bound_cents,
    holding_break_rad,
    holding_force_n,
    pluck_side_force_n,
    post_loads_n,
    saddle_force,
)  # fmt: skip
from geometry.intonation import intonation_move_mm
from geometry.saddle import Reach, saddle_reach
from geometry.sheet import Standards
from geometry.strings import tension_n, total_load_n
from geometry.strings_read import strings_from_readings
from geometry.tail import TailPath, exit_height_mm, front_fall_rad, tail_path
from geometry.uncertainty import Judgement, judge
from geometry.window import StudWindow, stud_window

__all__ = ["SheetChecks", "check_sheets"]

FRET = 12
CHUNK = 2048  # sheets worked out together: quickest, and about 20 MB


@dataclass(frozen=True)
class SheetChecks:
    """All that is worked out of a worksheet; see `check_sheets`. What cannot be is NaN, its verdict unknown.

    Attributes
    ----------
    relief, difference : geometry.uncertainty.Judgement
        Per instrument.
    nut_gap, height_12, break_angle, clearance, octave : geometry.uncertainty.Judgement
        Per string.
    nut_mm, nut_standard_mm, crest_mm, crest_standard_mm : numpy.ndarray
        Per string: slot and crest in the fret frame, from the readings [mm].
    arch : geometry.arch.ArchFit
        Both posts to the middle of the height targets, and the crests against what those heights need.
    tension_n : numpy.ndarray
        Per string [N].
    load_n : numpy.ndarray
        Per instrument [N].
    path : geometry.tail.TailPath
        Per string.
    path_standard : geometry.derived_uncertainty.TailStandard
        Per string.
    force : geometry.force.SaddleForce
        Per string.
    resultant_standard_n, holding_n, pluck_side_n, capstan_cents : numpy.ndarray
        Per string: uncertainty of the resultant, sideways force that the groove holds, sideways force of the pluck [N],
        bound on staying off after a bend [cents].
    post_bass_n, post_treble_n : numpy.ndarray
        Per instrument: load on each post [N].
    bounds : geometry.exits.ExitBounds
        Per string.
    window : geometry.window.StudWindow
        The stud window.
    octave_move_mm, octave_move_standard_mm : numpy.ndarray
        Per string: move of the crest, back positive [mm].
    reach : geometry.saddle.Reach
        Per string: whether the saddle gets there.
    """

    relief: Judgement
    difference: Judgement
    nut_gap: Judgement
    height_12: Judgement
    break_angle: Judgement
    clearance: Judgement
    octave: Judgement
    nut_mm: np.ndarray
    nut_standard_mm: np.ndarray
    crest_mm: np.ndarray
    crest_standard_mm: np.ndarray
    arch: ArchFit
    tension_n: np.ndarray
    load_n: np.ndarray
    path: TailPath
    path_standard: TailStandard
    force: SaddleForce
    resultant_standard_n: np.ndarray
    holding_n: np.ndarray
    pluck_side_n: np.ndarray
    capstan_cents: np.ndarray
    post_bass_n: np.ndarray
    post_treble_n: np.ndarray
    bounds: ExitBounds
    window: StudWindow
    octave_move_mm: np.ndarray
    octave_move_standard_mm: np.ndarray
    reach: Reach


def check_sheets(readings, record, targets, standards=None, *, rule="full", chunk=CHUNK):
    """Work out every check of one worksheet or of many.

    Where relief, slots or heights were not read the strings' own climb is left out of the front fall, which makes break
    angles about a third of a degree too small.

    To check many at once, stack their fields on a leading axis; instruments with fewer strings are filled up with NaN
    to the greatest number of strings, in the fields per string and in those of the `geometry.neck.Neck`, and give the
    same numbers as alone (a missing string's answers are NaN, its verdicts unknown, and `window.limit_lower` and
    `limit_upper` count the studs from the filled-up number on). More than `chunk` are worked out piece by piece.

    Every number comes from the function named in `SheetChecks`, where its formula and source stand.

    Parameters
    ----------
    readings : geometry.sheet.Readings
        What was read.
    record : geometry.sheet.Record
        The instrument.
    targets : geometry.sheet.Targets
        The limits.
    standards : geometry.sheet.Standards, optional
        Standard uncertainties; all exact if not given.
    rule : str
        Decision rule, a key of `geometry.uncertainty.GUARD_FACTORS`.
    chunk : int
        Sheets worked out together when there are more: bounds the memory, not the answer.

    Returns
    -------
    SheetChecks
        Arrays with the leading axes of the arguments.

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> from geometry.sheet import Readings, Record, Targets
    >>> neck = Neck([628.0] * 2, [-17.0, 17.0], [-25.0, 25.0], 305.0, 305.0, 22)
    >>> record = Record(neck=neck, post_span_mm=74.0, stud_span_mm=82.0, neck_tilt_rad=0.05, run_mm=40.0,
    ...                 edge_behind_mm=6.0, edge_below_mm=2.5, above_stud_mm=5.0)
    >>> readings = Readings(relief_mm=0.2, nut_gap_mm=[0.15, 0.12], height_12_mm=[2.3, 1.4], crest_mm=[16.0, 15.5],
    ...                     stud_bass_mm=6.0, stud_treble_mm=6.0)
    >>> targets = Targets(height_low_mm=[1.6, 1.2], height_high_mm=[2.1, 1.7], break_low_rad=np.radians(6.0))
    >>> found = check_sheets(readings, record, targets, Standards(height_12_mm=0.036))
    >>> found.height_12.verdict.tolist(), np.degrees(found.path.break_rad).round(1).tolist()
    ([0, 2], [10.3, 9.4])
    >>> float(found.arch.bass_mm.round(3)), float(found.arch.treble_mm.round(3))
    (-1.14, 0.34)
    """
    given = (readings, record, targets, Standards() if standards is None else standards)
    return in_chunks(lambda *part: _check(*part, rule), given, as_count("chunk", chunk, 1, 10_000_000))


def _check(readings, record, targets, standards, rule):
    neck_part = _neck_part(readings, record, targets, standards)
    path, tail_part = _tail_part(readings, record, standards, neck_part["nut_mm"], neck_part["crest_mm"])
    tension = tension_n(
        record.mass_kg_per_m, length_mm=record.neck.scale_mm, frequency_hz=record.frequency_hz
    )  # fmt: skip
    pluck = pluck_side_force_n(
        record.pluck_n[..., None], from_saddle_mm=record.pluck_share[..., None] * record.neck.scale_mm,
        length_mm=record.neck.scale_mm,
    )  # fmt: skip
    return SheetChecks(
        **_verdicts(readings, targets, standards, path, tail_part["path_standard"], rule),
        **neck_part, **tail_part, tension_n=tension, load_n=total_load_n(tension),
        **_force_part(record, standards, path, tail_part["path_standard"], tension, pluck),
        **_window_part(readings, record, targets, path, tension, pluck), **_octave_part(readings, record, standards),
    )  # fmt: skip


def _neck_part(readings, record, targets, standards):
    """Slots and crests from the readings, both posts, and the arch."""
    neck = record.neck
    found = strings_from_readings(
        neck, gap_mm=readings.nut_gap_mm, height_mm=readings.height_12_mm, relief_mm=readings.relief_mm,
        gap_standard_mm=standards.nut_gap_mm, height_standard_mm=standards.height_12_mm,
        relief_standard_mm=standards.relief_mm, fret=FRET,
    )  # fmt: skip
    # Relief and slots count for the crests as they are and as they are wanted alike, and drop out of the difference.
    goal = _middle(targets.height_low_mm, targets.height_high_mm)
    way = 1.0 - 2.0 ** (-FRET / 12.0)
    arch = fit_arch(
        readings.height_12_mm / way, goal / way, lateral_mm=neck.lateral_bridge_mm, span_mm=record.post_span_mm,
        standard_mm=standards.height_12_mm / way,
    )  # fmt: skip
    return vars(found) | {"arch": arch}


def _middle(low, high):
    """Middle of a range; the one limit where there is only one."""
    return 0.5 * (np.where(np.isnan(low), high, low) + np.where(np.isnan(high), low, high))


def _tail_part(readings, record, standards, nut, crest):
    neck = record.neck
    climb = crest - nut
    front = front_fall_rad(
        record.neck_tilt_rad[..., None], nut_mm=0.0, crest_mm=np.where(np.isnan(climb), 0.0, climb),
        crest_x_mm=neck.scale_mm,
    )  # fmt: skip
    leaves = exit_height_mm(
        readings.stud_bass_mm, readings.stud_treble_mm, lateral_mm=neck.lateral_bridge_mm, span_mm=record.stud_span_mm,
        above_stud_mm=record.above_stud_mm,
    )  # fmt: skip
    shape = {
        "run_mm": record.run_mm, "edge_behind_mm": record.edge_behind_mm, "edge_below_mm": record.edge_below_mm,
        "bar_radius_mm": record.bar_radius_mm,
    }  # fmt: skip
    path = tail_path(readings.crest_mm, leaves, front_fall_rad=front, **shape)
    shares = lever(neck.lateral_bridge_mm, span_mm=record.stud_span_mm)
    by_studs = np.hypot(shares[..., 0], shares[..., 1]) * standards.stud_mm[..., None]
    spread = tail_standard(
        path, drop_mm=readings.crest_mm - leaves, **shape, drop_standard_mm=np.hypot(standards.crest_mm, by_studs),
        run_standard_mm=standards.run_mm, behind_standard_mm=standards.edge_behind_mm,
        below_standard_mm=standards.edge_below_mm, front_standard_rad=standards.neck_tilt_rad[..., None],
    )  # fmt: skip
    return path, {"path": path, "path_standard": spread}


def _verdicts(readings, targets, standards, path, spread, rule):
    """All seven judgements in one call: the quantities side by side on the last axis."""
    strings = path.break_rad.shape[-1]
    table = {
        "relief": (readings.relief_mm[..., None], targets.relief_low_mm[..., None], targets.relief_high_mm[..., None],
                   standards.relief_mm[..., None], 1),
        "difference": (np.abs(readings.stud_treble_mm - readings.stud_bass_mm)[..., None], np.nan,
                       targets.difference_most_mm[..., None], np.sqrt(2.0) * standards.stud_mm[..., None], 1),
        "nut_gap": (readings.nut_gap_mm, targets.nut_gap_low_mm, targets.nut_gap_high_mm, standards.nut_gap_mm,
                    strings),
        "height_12": (readings.height_12_mm, targets.height_low_mm, targets.height_high_mm, standards.height_12_mm,
                      strings),
        "break_angle": (path.break_rad, targets.break_low_rad[..., None], targets.break_high_rad[..., None],
                        spread.break_rad, strings),
        "clearance": (path.clearance_mm, targets.clearance_low_mm[..., None], np.nan, spread.clearance_mm, strings),
        "octave": (readings.octave_cents, targets.octave_low_cents[..., None], targets.octave_high_cents[..., None],
                   standards.octave_cents, strings),
    }  # fmt: skip
    batch = path.break_rad.shape[:-1]
    rows = [_side_by_side([row[i] for row in table.values()], [row[4] for row in table.values()], batch)
            for i in range(4)]  # fmt: skip
    all_ = judge(rows[0], low=rows[1], high=rows[2], standard=rows[3], rule=rule)
    found, at = {}, 0
    for name, row in table.items():
        place = (..., at if name in ("relief", "difference") else slice(at, at + row[4]))
        found[name] = Judgement(all_.verdict[place], all_.margin[place], all_.probability[place])
        at += row[4]
    return found


def _side_by_side(columns, widths, batch):
    joined = np.empty((*batch, sum(widths)))
    at = 0
    for column, width in zip(columns, widths, strict=True):
        joined[..., at : at + width] = column
        at += width
    return joined


def _force_part(record, standards, path, spread, tension, pluck):
    front = path.break_rad - path.rear_fall_rad
    force = saddle_force(tension, front_fall_rad=front, rear_fall_rad=path.rear_fall_rad)
    bass, treble = post_loads_n(force.down_n, lateral_mm=record.neck.lateral_bridge_mm, span_mm=record.post_span_mm)
    groove = record.groove_half_angle_rad[..., None]
    return {
        "force": force, "post_bass_n": bass, "post_treble_n": treble,
        "resultant_standard_n": force_standard_n(
            force, tension_n=tension, break_rad=path.break_rad, tension_standard_n=standards.tension_n,
            break_standard_rad=spread.break_rad,
        ),
        "holding_n": holding_force_n(np.maximum(force.resultant_n, 0.0), half_angle_rad=groove),
        "pluck_side_n": pluck + 0.0 * tension,
        "capstan_cents": capstan_bound_cents(path.break_rad, friction=record.friction[..., None]),
    }  # fmt: skip


def _window_part(readings, record, targets, path, tension, pluck):
    hold = holding_break_rad(pluck, tension_n=tension, half_angle_rad=record.groove_half_angle_rad[..., None])
    bounds = exit_bounds(
        readings.crest_mm, run_mm=record.run_mm, front_fall_rad=path.break_rad - path.rear_fall_rad,
        break_low_rad=targets.break_low_rad[..., None], break_high_rad=targets.break_high_rad[..., None],
        hold_rad=hold, edge_behind_mm=record.edge_behind_mm, edge_below_mm=record.edge_below_mm,
        clearance_low_mm=targets.clearance_low_mm[..., None], bar_radius_mm=record.bar_radius_mm,
    )  # fmt: skip
    window = stud_window(
        bounds.lower_mm, bounds.upper_mm, bass_mm=readings.stud_bass_mm, treble_mm=readings.stud_treble_mm,
        lateral_mm=record.neck.lateral_bridge_mm, span_mm=record.stud_span_mm, above_stud_mm=record.above_stud_mm,
        difference_most_mm=targets.difference_most_mm,
    )  # fmt: skip
    return {"bounds": bounds, "window": window}


def _octave_part(readings, record, standards):
    move = intonation_move_mm(readings.octave_cents, open_mm=record.neck.scale_mm, fret=FRET)
    spread = move_standard_mm(readings.octave_cents, standards.octave_cents, open_mm=record.neck.scale_mm, fret=FRET)
    reach = saddle_reach(
        move, back_left_mm=readings.back_left_mm, forward_left_mm=readings.forward_left_mm, facing=readings.facing,
        turn_shift_mm=record.turn_shift_mm[..., None],
    )  # fmt: skip
    return {"octave_move_mm": move, "octave_move_standard_mm": spread, "reach": reach}
