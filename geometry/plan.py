"""The whole setup at once: from readings and targets to the moves of rod, nut, posts and studs, and their order."""

from dataclasses import dataclass

import numpy as np

from geometry.errors import as_not_negative, as_option
from geometry.exits import exit_bounds
from geometry.neck import crest_from_height_mm, nut_from_gap_mm
from geometry.neck_moves import FRET, ORDER, Errors, changes_after, effects_of, solve_moves
from geometry.tail import exit_height_mm, front_fall_rad, tail_path
from geometry.window import StudWindow, stud_window

__all__ = ["Expected", "Plan", "plan_setup"]

@dataclass(frozen=True)
class Expected:
    """Readings to be expected after a move; NaN where the reading to start from is missing.

    Attributes
    ----------
    relief_mm : numpy.ndarray
        Per instrument [mm].
    nut_gap_mm, height_12_mm, break_rad, clearance_mm : numpy.ndarray
        Per string [mm, mm, rad, mm].
    """

    relief_mm: np.ndarray
    nut_gap_mm: np.ndarray
    height_12_mm: np.ndarray
    break_rad: np.ndarray
    clearance_mm: np.ndarray


@dataclass(frozen=True)
class Plan:
    """Moves, what they leave, and what to expect on the way; see `plan_setup`.

    Attributes
    ----------
    relief_change_mm : numpy.ndarray
        Per instrument: change of relief to make by the rod [mm].
    nut_change_mm : numpy.ndarray
        Per string: change of each slot, down negative [mm].
    post_bass_mm, post_treble_mm, stud_bass_mm, stud_treble_mm : numpy.ndarray
        Per instrument: up positive [mm]; the studs' are NaN where no setting keeps every bound.
    relief_remains_mm : numpy.ndarray
        Per instrument: goal less what is reached [mm].
    nut_gap_remains_mm, height_remains_mm : numpy.ndarray
        Per string: goal less what is reached [mm].
    window : geometry.window.StudWindow
        The stud window as it will be once rod, nut and posts are done.
    expected : tuple of Expected
        After each move, in the order of `geometry.neck_moves.ORDER`: rod, nut, posts, studs.
    """

    relief_change_mm: np.ndarray
    nut_change_mm: np.ndarray
    post_bass_mm: np.ndarray
    post_treble_mm: np.ndarray
    stud_bass_mm: np.ndarray
    stud_treble_mm: np.ndarray
    relief_remains_mm: np.ndarray
    nut_gap_remains_mm: np.ndarray
    height_remains_mm: np.ndarray
    window: StudWindow
    expected: tuple


def plan_setup(
    readings, record, targets, *, joint_fret, aim="middle", guard_mm=0.0, rod_most_mm=np.inf, post_most_mm=np.inf,
    nut_raise_mm=0.0, tolerances_mm=None,
):  # fmt: skip
    """Solve all moves of a two-post bridge with a stop tailpiece together.

    Each move changes what comes after it: the rod moves slots, crowns and crests (`geometry.neck.relief_lift`), slots
    move heights, posts move crests and so the window of the studs. All that is counted beforehand, so goals that can be
    reached are reached in one round. `geometry.neck_moves.solve_moves` finds rod, slots and posts, in the order of the
    bench or, with tolerances, weighed against each other. The studs then take the smallest move into the window of the
    new crests; they move nothing of the rest. Derived; of the parts only the rod's has no measurement behind it.

    `expected` holds the readings after each move in turn, every one counted from the readings as found plus all moves
    so far: make the first move, read, compare with ``expected[0]``, and solve again where they disagree. Only the last
    has the studs moved.

    Parameters
    ----------
    readings : geometry.sheet.Readings
        As found. A reading not taken leaves its own goal out and its adjuster alone.
    record : geometry.sheet.Record
        The instrument.
    targets : geometry.sheet.Targets
        The limits.
    joint_fret : array_like
        Per instrument: the fret at which the neck meets the body.
    aim : str
        'middle' of each range, or 'nearest': only as far as needed into the range.
    guard_mm : array_like
        Per instrument: how far inside its limits each goal, and each string's exit, shall lie [mm].
    rod_most_mm, post_most_mm : array_like
        Per instrument: most that relief, and each post, may change either way [mm].
    nut_raise_mm : array_like
        Per instrument: most that a slot may be raised [mm]; 0: slots are cut, never raised.
    tolerances_mm : tuple of array_like, optional
        Per instrument: how much an error of relief, nut gap and height counts, above 0; in order if not given [mm].

    Returns
    -------
    Plan
        Moves, what remains, and the readings to expect after each.

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> from geometry.sheet import Readings, Record, Targets
    >>> neck = Neck([628.0] * 2, [-17.0, 17.0], [-25.0, 25.0], 305.0, 305.0, 22)
    >>> record = Record(neck=neck, post_span_mm=74.0, stud_span_mm=82.0, neck_tilt_rad=0.05, run_mm=40.0)
    >>> readings = Readings(relief_mm=0.4, nut_gap_mm=[0.2, 0.2], height_12_mm=[2.6, 2.2], crest_mm=[16.0, 15.5],
    ...                     stud_bass_mm=11.0, stud_treble_mm=11.0)
    >>> targets = Targets(relief_low_mm=0.1, relief_high_mm=0.3, nut_gap_low_mm=0.05, nut_gap_high_mm=0.25,
    ...                   height_low_mm=[1.6, 1.2], height_high_mm=[2.1, 1.7], break_low_rad=np.radians(9.0))
    >>> plan = plan_setup(readings, record, targets, joint_fret=16)
    >>> float(plan.relief_change_mm.round(6)), plan.expected[-1].height_12_mm.round(6).tolist()
    (-0.2, [1.85, 1.45])
    """
    guard = as_not_negative("guard_mm", guard_mm)
    goals = _goals(readings, targets, as_option("aim", aim, ("middle", "nearest")), guard)
    effects = effects_of(record, joint_fret=joint_fret)
    errors = Errors(
        goals["relief_mm"] - readings.relief_mm, goals["nut_gap_mm"] - readings.nut_gap_mm,
        goals["height_12_mm"] - readings.height_12_mm,
    )  # fmt: skip
    moves = solve_moves(
        effects, errors, tolerances_mm=tolerances_mm, rod_most_mm=rod_most_mm, post_most_mm=post_most_mm,
        nut_raise_mm=nut_raise_mm,
    )  # fmt: skip
    return _told(_Start.of(readings, record, targets, guard), effects, moves, errors)


def _goals(readings, targets, aim, guard):
    limits = {
        "relief_mm": (targets.relief_low_mm, targets.relief_high_mm, guard),
        "nut_gap_mm": (targets.nut_gap_low_mm, targets.nut_gap_high_mm, guard[..., None]),
        "height_12_mm": (targets.height_low_mm, targets.height_high_mm, guard[..., None]),
    }  # fmt: skip
    return {name: _goal(getattr(readings, name), *limit, aim) for name, limit in limits.items()}


def _goal(reading, low, high, guard, aim):
    """Where a reading ought to be: NaN where there is no limit."""
    least, most = low + guard, high - guard
    middle = 0.5 * (low + high)
    narrow = least > most
    nearest = np.fmin(np.fmax(reading, np.where(narrow, middle, least)), np.where(narrow, middle, most))
    nearest = np.where(np.isnan(low) & np.isnan(high), np.nan, nearest)
    return nearest if aim == "nearest" else np.where(np.isnan(middle), nearest, middle)


@dataclass(frozen=True)
class _Start:
    """The bridge as found, and how to work out its tail after any changes."""

    readings: object
    record: object
    targets: object
    guard: np.ndarray
    climb: np.ndarray

    @classmethod
    def of(cls, readings, record, targets, guard):
        nut = nut_from_gap_mm(record.neck, readings.nut_gap_mm, relief_mm=readings.relief_mm)
        crest = crest_from_height_mm(
            record.neck, readings.height_12_mm, fret=FRET, nut_mm=nut, relief_mm=readings.relief_mm
        )
        climb = crest - nut
        return cls(readings, record, targets, guard, np.where(np.isnan(climb), 0.0, climb))

    def front_fall(self, change):
        return front_fall_rad(
            self.record.neck_tilt_rad[..., None] - change.tilt_rad, nut_mm=0.0,
            crest_mm=self.climb + change.climb_mm, crest_x_mm=self.record.neck.scale_mm,
        )  # fmt: skip

    def expected(self, change, bass, treble):
        """Readings after changes, with the studs at `bass` and `treble`."""
        record, now = self.record, self.readings
        leaves = exit_height_mm(
            bass, treble, lateral_mm=record.neck.lateral_bridge_mm, span_mm=record.stud_span_mm,
            above_stud_mm=record.above_stud_mm,
        )  # fmt: skip
        path = tail_path(
            now.crest_mm + change.crest_mm, leaves, run_mm=record.run_mm, front_fall_rad=self.front_fall(change),
            edge_behind_mm=record.edge_behind_mm, edge_below_mm=record.edge_below_mm,
            bar_radius_mm=record.bar_radius_mm,
        )  # fmt: skip
        return Expected(
            now.relief_mm + change.relief_mm, now.nut_gap_mm + change.nut_gap_mm,
            now.height_12_mm + change.height_12_mm, path.break_rad, path.clearance_mm,
        )  # fmt: skip

    def window(self, change):
        record, targets, now = self.record, self.targets, self.readings
        guard = self.guard[..., None]
        bounds = exit_bounds(
            now.crest_mm + change.crest_mm, run_mm=record.run_mm, front_fall_rad=self.front_fall(change),
            break_low_rad=targets.break_low_rad[..., None], break_high_rad=targets.break_high_rad[..., None],
            edge_behind_mm=record.edge_behind_mm, edge_below_mm=record.edge_below_mm,
            clearance_low_mm=targets.clearance_low_mm[..., None], bar_radius_mm=record.bar_radius_mm,
        )  # fmt: skip
        return stud_window(
            bounds.lower_mm + guard, bounds.upper_mm - guard, bass_mm=now.stud_bass_mm, treble_mm=now.stud_treble_mm,
            lateral_mm=record.neck.lateral_bridge_mm, span_mm=record.stud_span_mm, above_stud_mm=record.above_stud_mm,
            difference_most_mm=targets.difference_most_mm,
        )  # fmt: skip


def _told(start, effects, moves, errors):
    """The plan in words of the bench: moves, remainders, and the readings on the way."""
    bass, treble = start.readings.stud_bass_mm, start.readings.stud_treble_mm
    last = changes_after(effects, moves)
    window = start.window(last)
    on_the_way = [start.expected(changes_after(effects, moves, upto=step), bass, treble) for step in ORDER[:-1]]
    done = start.expected(last, bass + window.move_bass_mm, treble + window.move_treble_mm)
    return Plan(
        moves.relief_mm, moves.nut_mm, moves.post_bass_mm, moves.post_treble_mm, window.move_bass_mm,
        window.move_treble_mm, errors.relief_mm - last.relief_mm, errors.nut_gap_mm - last.nut_gap_mm,
        errors.height_12_mm - last.height_12_mm, window, (*on_the_way, done),
    )  # fmt: skip
