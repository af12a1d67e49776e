"""Bounds on each string's exit at the tail: steep enough over the crest, clear of the bridge's rear edge."""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from geometry.errors import GeometryError, as_numbers, as_positive

__all__ = ["Bound", "ExitBounds", "exit_bounds"]


class Bound(IntEnum):
    """What sets a bound on a string's exit."""

    NONE = 0
    LEAST_BREAK = 1  # break angle not below its least: exit low enough
    HOLDING = 2  # groove holds against a pluck: exit low enough
    MOST_BREAK = 3  # break angle not above its most: exit high enough
    EDGE = 4  # clearance over the rear edge: exit high enough


BY_UPPER = (Bound.LEAST_BREAK.value, Bound.HOLDING.value)
BY_LOWER = (Bound.MOST_BREAK.value, Bound.EDGE.value)


@dataclass(frozen=True)
class ExitBounds:
    """Where a string may leave the tail; see `exit_bounds`.

    Attributes
    ----------
    lower_mm, upper_mm : numpy.ndarray
        Heights above the top, of the exit or of the bar's centre; infinite for no bound; NaN where the string is
        missing [mm]. A string for itself is impossible where lower is above upper.
    lower_by, upper_by : numpy.ndarray
        `Bound` values as integers.
    """

    lower_mm: np.ndarray
    upper_mm: np.ndarray
    lower_by: np.ndarray
    upper_by: np.ndarray


def exit_bounds(
    crest_mm, *, run_mm, front_fall_rad, break_low_rad=np.nan, break_high_rad=np.nan, hold_rad=np.nan,
    edge_behind_mm=np.nan, edge_below_mm=np.nan, clearance_low_mm=0.0, bar_radius_mm=0.0,
):  # fmt: skip
    """Lowest and highest exit of each string that keep every rule. Elementwise.

    A rear fall ρ stands for an exit ``h_e = h_c − (d·tan ρ + r/cos ρ)``, r being 0 without a wrap. Least break angle
    and holding give the least ρ and so the highest exit; most break angle and the edge, ``tan ρ ≤ (edge_below −
    clearance)/edge_behind``, the greatest ρ and so the lowest exit. Derived.

    Parameters
    ----------
    crest_mm : array_like
        Crest above the top [mm]; NaN for a missing string.
    run_mm : array_like
        Level distance from the crest back to the exit, or to the bar's centre, above 0 [mm].
    front_fall_rad : array_like
        Fall towards the nut [rad].
    break_low_rad, break_high_rad : array_like
        Least and most break angle; NaN for no limit [rad].
    hold_rad : array_like
        Least break angle that holds the string, `geometry.force.holding_break_rad`; NaN for no limit [rad].
    edge_behind_mm, edge_below_mm : array_like
        The bridge's rear edge, behind (above 0) and below the crest [mm]; NaN for no limit.
    clearance_low_mm : array_like
        Least clearance over the edge [mm]; NaN for no limit.
    bar_radius_mm : array_like
        Radius at which the string wraps over a round bar; 0 for a plain exit [mm].

    Returns
    -------
    ExitBounds
        Bounds and what sets them.

    Examples
    --------
    >>> bounds = exit_bounds(15.0, run_mm=40.0, front_fall_rad=0.06, break_low_rad=0.12, edge_behind_mm=6.0,
    ...                      edge_below_mm=2.5, clearance_low_mm=0.4)
    >>> float(bounds.lower_mm.round(3)), float(bounds.upper_mm.round(3))
    (1.0, 12.597)
    >>> Bound(bounds.lower_by).name, Bound(bounds.upper_by).name
    ('EDGE', 'LEAST_BREAK')
    """
    crest, run = as_numbers("crest_mm", crest_mm), as_positive("run_mm", run_mm)
    front, radius = as_numbers("front_fall_rad", front_fall_rad), as_numbers("bar_radius_mm", bar_radius_mm)
    low, high = as_numbers("break_low_rad", break_low_rad), as_numbers("break_high_rad", break_high_rad)
    if np.count_nonzero(low > high):
        raise GeometryError("break_low_rad", low.tolist(), "at most break_high_rad")
    hold = as_numbers("hold_rad", hold_rad)
    room = as_numbers("edge_below_mm", edge_below_mm) - as_numbers("clearance_low_mm", clearance_low_mm)
    edge = np.arctan2(room, as_positive("edge_behind_mm", edge_behind_mm))
    least, by_upper = _stricter(np.fmax, low - front, hold - front, BY_UPPER)
    most, by_lower = _stricter(np.fmin, high - front, edge, BY_LOWER)
    lower = np.where(np.isnan(most), -np.inf, crest - _fall_mm(most, run, radius))
    upper = np.where(np.isnan(least), np.inf, crest - _fall_mm(least, run, radius))
    gone = np.isnan(crest + run)
    return ExitBounds(np.where(gone, np.nan, lower), np.where(gone, np.nan, upper), by_lower, by_upper)


def _stricter(choose, first, second, names):
    """The stricter of two limits on the fall, NaN being none, and which it is: 0 where there is none."""
    found = choose(first, second)
    return found, np.where(found == first, names[0], np.where(found == second, names[1], 0))


def _fall_mm(fall_rad, run, radius):
    """How far below the crest the exit, or the bar's centre, lies; infinite from a quarter turn on."""
    steep = fall_rad >= 0.5 * np.pi
    angle = np.where(steep, 0.0, fall_rad)
    return np.where(steep, np.inf, run * np.tan(angle) + radius / np.cos(angle))
