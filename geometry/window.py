"""The stud window: every pair of stud heights at which all strings keep all their bounds.

In the plane of (bass stud, treble stud) each string's bounds are two parallel lines, the largest allowed difference
two more, and the studs' own travel a square; the window is the polygon that they leave.
"""

from dataclasses import dataclass

import numpy as np

from geometry.batching import picked
from geometry.bridge import lever
from geometry.errors import GeometryError, as_not_negative, as_numbers, as_positive
from geometry.polygon import nearest_point, polygon_corners

__all__ = ["StudWindow", "stud_window", "window_corners_mm"]

CLOSE = 1e-9  # mm: a window of a single point counts as one
HALF_ROOT = np.sqrt(0.5)
TIP = np.array([[-HALF_ROOT, HALF_ROOT], [HALF_ROOT, -HALF_ROOT]])  # treble over bass, and bass over treble


@dataclass(frozen=True)
class StudWindow:
    """Where the studs may stand; see `stud_window`. All per instrument but for the two margins.

    Attributes
    ----------
    empty : numpy.ndarray
        Whether no pair of stud heights keeps every bound.
    room_mm : numpy.ndarray
        Margin in exit height that the best setting leaves every string; negative by how much it fails; NaN where no
        string has a bound [mm].
    limit_lower, limit_upper : numpy.ndarray
        Which string's lower and upper bound meet at the best setting, and so make the window empty or narrow: index of
        the string; `strings` and `strings + 1` stand for the travel of the bass and of the treble stud. Both are the
        same string where its own bounds leave nothing between them.
    best_bass_mm, best_treble_mm : numpy.ndarray
        The best setting [mm].
    inside : numpy.ndarray
        Whether the present setting is in the window.
    lower_margin_mm, upper_margin_mm : numpy.ndarray
        Per string: exit above its lower and below its upper bound, as the studs are; infinite without a bound [mm].
    difference_mm, difference_margin_mm : numpy.ndarray
        Treble stud less bass stud, and how much less than allowed its size is [mm].
    move_bass_mm, move_treble_mm : numpy.ndarray
        Smallest move into the window, up positive; 0 inside; NaN where it is empty [mm].
    """

    empty: np.ndarray
    room_mm: np.ndarray
    limit_lower: np.ndarray
    limit_upper: np.ndarray
    best_bass_mm: np.ndarray
    best_treble_mm: np.ndarray
    inside: np.ndarray
    lower_margin_mm: np.ndarray
    upper_margin_mm: np.ndarray
    difference_mm: np.ndarray
    difference_margin_mm: np.ndarray
    move_bass_mm: np.ndarray
    move_treble_mm: np.ndarray


def stud_window(
    lower_mm, upper_mm, *, bass_mm, treble_mm, lateral_mm, span_mm, above_stud_mm=0.0, difference_most_mm=np.inf,
    stud_low_mm=0.0, stud_high_mm=60.0,
):  # fmt: skip
    """Find the window, its margins, what limits it, and the smallest move into it.

    String i leaves the tail at ``offset_i + b·(1/2 − y_i/P) + t·(1/2 + y_i/P)`` for studs at (b, t); its bounds, the
    difference ``|t − b|`` and the studs' travel are half-planes. The best setting maximises the least margin (a linear
    programme of two unknowns, solved exactly over its breakpoints); the smallest move is the nearest point of the
    polygon, with both studs' moves counted alike. Derived.

    Parameters
    ----------
    lower_mm, upper_mm : array_like
        Per string: bounds on the exit, `geometry.exits.exit_bounds` [mm]; infinite for none, NaN for a missing string.
    bass_mm, treble_mm : array_like
        Per instrument: the studs as they are [mm]; NaN where not read, then only the window itself is answered.
    lateral_mm : array_like
        Per string: position at the tailpiece [mm].
    span_mm : array_like
        Per instrument: distance between the studs, above 0 [mm].
    above_stud_mm : array_like
        Per string, or one number: exit, or the bar's centre, above the stud reading [mm].
    difference_most_mm : array_like
        Per instrument: largest difference between the studs, 0 or more; infinite or NaN for none [mm].
    stud_low_mm, stud_high_mm : array_like
        Per instrument: the studs' own travel [mm].

    Returns
    -------
    StudWindow
        The window.

    Examples
    --------
    >>> window = stud_window([6.0, 7.0], [10.0, 9.0], bass_mm=4.0, treble_mm=12.0, lateral_mm=[-20, 20], span_mm=80,
    ...                      difference_most_mm=1.0)
    >>> bool(window.empty), float(window.room_mm), bool(window.inside)
    (False, 1.0, False)
    >>> float(window.move_bass_mm.round(6)), float(window.move_treble_mm.round(6))
    (3.5, -3.5)
    """
    bands = _Bands.of(lower_mm, upper_mm, lateral_mm, span_mm, above_stud_mm, (stud_low_mm, stud_high_mm))
    most = _difference(difference_most_mm)
    bass, treble = as_numbers("bass_mm", bass_mm), as_numbers("treble_mm", treble_mm)
    room, middle, tilt, lowest, highest = _best_setting(bands, most)
    count = bands.lower.shape[-1] - 2
    slope = (treble - bass) / bands.span
    levels = 0.5 * (bass + treble)[..., None] + slope[..., None] * bands.lateral
    below, above = levels - bands.lower, bands.upper - levels
    spare = most - np.abs(treble - bass)
    inside = (np.minimum(below, above).min(axis=-1) >= -CLOSE) & (spare >= -CLOSE)
    empty = room < -CLOSE
    move = _smallest_move(bands, most, bass, treble, inside, empty)
    half = 0.5 * tilt * bands.span
    bound = (np.isfinite(bands.lower[..., :count]) | np.isfinite(bands.upper[..., :count])).any(axis=-1)
    return StudWindow(
        empty, np.where(bound, room, np.nan)[()], lowest, highest, middle - half, middle + half, inside,
        below[..., :count], above[..., :count], treble - bass, spare, move[..., 0], move[..., 1],
    )  # fmt: skip


def window_corners_mm(
    lower_mm, upper_mm, *, lateral_mm, span_mm, above_stud_mm=0.0, difference_most_mm=np.inf, stud_low_mm=0.0,
    stud_high_mm=60.0,
):  # fmt: skip
    """Corners of the window, to draw it. Arguments as of `stud_window`.

    Derived: the half-planes of `stud_window` cut by one another.

    Parameters
    ----------
    lower_mm, upper_mm : array_like
        Per string: bounds on the exit [mm].
    lateral_mm : array_like
        Per string: position at the tailpiece [mm].
    span_mm : array_like
        Per instrument: distance between the studs, above 0 [mm].
    above_stud_mm : array_like
        Per string, or one number: exit above the stud reading [mm].
    difference_most_mm : array_like
        Per instrument: largest difference between the studs; infinite or NaN for none [mm].
    stud_low_mm, stud_high_mm : array_like
        Per instrument: the studs' own travel [mm].

    Returns
    -------
    numpy.ndarray
        Shape (..., corners, 2): (bass stud, treble stud), anticlockwise, filled up with NaN [mm].

    Examples
    --------
    >>> corners = window_corners_mm([6.0, 7.0], [10.0, 9.0], lateral_mm=[-20, 20], span_mm=80, difference_most_mm=1.0)
    >>> corners[~np.isnan(corners[:, 0])].round(6).tolist()
    [[6.25, 7.25], [7.75, 6.75], [9.75, 8.75], [8.25, 9.25]]
    """
    bands = _Bands.of(lower_mm, upper_mm, lateral_mm, span_mm, above_stud_mm, (stud_low_mm, stud_high_mm))
    return polygon_corners(*_half_planes(bands, _difference(difference_most_mm)))


def _difference(difference_most_mm):
    most = as_not_negative("difference_most_mm", difference_most_mm)
    return np.where(np.isnan(most), np.inf, most)


def _smallest_move(bands, most, bass, treble, inside, empty):
    """Move of both studs to the nearest point of the window; looked for only where there is one to look for."""
    known = inside | empty | np.isnan(bass + treble)
    move = np.where(inside & ~empty, 0.0, np.nan)[..., None] + np.zeros(2)
    if np.count_nonzero(known) < known.size:
        seek = ~known
        bass, treble = np.broadcast_to(bass, seek.shape), np.broadcast_to(treble, seek.shape)
        normals, offsets = _half_planes(bands, most)
        present = np.stack([bass[seek], treble[seek]], axis=-1)
        normals = np.broadcast_to(normals, (*seek.shape, *normals.shape[-2:]))[seek]
        offsets = np.broadcast_to(offsets, (*seek.shape, offsets.shape[-1]))[seek]
        move[seek] = nearest_point(normals, offsets, present) - present
    return move


@dataclass(frozen=True)
class _Bands:
    """Bounds of all strings, and of both studs as two more, on the height of the studs' line at their places."""

    lower: np.ndarray  # (..., strings + 2)
    upper: np.ndarray
    lateral: np.ndarray
    span: np.ndarray

    @classmethod
    def of(cls, lower, upper, lateral, span, above_stud, travel):
        """Refer every string's bounds to the line between the studs, and add the studs themselves as strings."""
        offset = as_numbers("above_stud_mm", above_stud)
        across = as_numbers("lateral_mm", lateral, strings=True)
        low = as_numbers("lower_mm", lower, strings=True) - offset
        high = as_numbers("upper_mm", upper, strings=True) - offset
        width = as_positive("span_mm", span)
        least, most = (as_numbers(n, v) for n, v in zip(("stud_low_mm", "stud_high_mm"), travel, strict=True))
        if not (np.isfinite(least) & (least < most) & np.isfinite(most)).all():
            raise GeometryError("stud_low_mm", least.tolist(), "finite and below stud_high_mm")
        gone = np.isnan(low) | np.isnan(high) | np.isnan(across)
        half = 0.5 * width[..., None] * np.array([-1.0, 1.0])
        ends = np.zeros(2)
        return cls(
            _joined(np.where(gone, -np.inf, low), least[..., None] + ends),
            _joined(np.where(gone, np.inf, high), most[..., None] + ends),
            _joined(np.where(gone, 0.0, across), half), width,
        )  # fmt: skip


def _joined(strings, ends):
    shape = np.broadcast_shapes(strings.shape[:-1], ends.shape[:-1])
    joined = np.empty((*shape, strings.shape[-1] + 2))
    joined[..., :-2], joined[..., -2:] = strings, ends
    return joined


def _best_setting(bands, most):
    """Level and slope of the studs' line that leave the greatest least margin, and what limits it.

    For a slope s the best margin is half of ``min(upper − s·y) − max(lower − s·y)``: concave and piecewise linear in s.
    Its maximum is closed in on by crossing the tangents of both sides, which ends exactly after a few of its pieces.
    """
    travel = (bands.upper[..., -1] - bands.lower[..., -1]) / bands.span
    steepest = np.minimum(most / bands.span, travel)
    left, right = ((one, *_tangent(bands, one)[:2]) for one in (-steepest, steepest))
    for _ in range(4 * bands.lower.shape[-1]):
        found = _crossing(left, right)
        gap, rise, room, middle, lowest, highest = _tangent(bands, found)
        # A tangent through the crossing means that no piece lies between: the maximum is there.
        short = left[2] * (found - left[0]) + left[1] - gap
        open_ = (short > CLOSE * 1e-3) & (rise != 0)
        if not np.count_nonzero(open_):
            return room, middle, found, lowest, highest
        new = (found, gap, rise)
        left = tuple(np.where(open_ & (rise > 0), one, old) for one, old in zip(new, left, strict=True))
        right = tuple(np.where(open_ & (rise < 0), one, old) for one, old in zip(new, right, strict=True))
    raise GeometryError("lower_mm", bands.lower.tolist(), "such that the best setting can be closed in on")


def _crossing(left, right):
    """Where the tangents of both sides cross; an end whose tangent does not rise inwards is the maximum itself."""
    (start, gap, rise), (end, end_gap, end_rise) = left, right
    at_start, at_end = rise <= 0, end_rise >= 0
    way = (end_gap - gap - end_rise * (end - start)) / np.where(at_start | at_end, 1.0, rise - end_rise)
    inside = np.minimum(start + np.maximum(way, 0.0), end)
    return np.where(at_start, start, np.where(at_end, end, inside))


def _tangent(bands, slope):
    """At a slope of the studs' line: the gap between the lowest upper and the highest lower bound and how it changes;
    room, level in the middle, and the two bounds that meet there."""
    tilted = slope[..., None] * bands.lateral
    top, bottom = bands.upper - tilted, bands.lower - tilted
    highest, lowest = top.argmin(axis=-1), bottom.argmax(axis=-1)
    high, low = picked(top, highest), picked(bottom, lowest)
    wide = high - low
    # An impossible bound is infinite; its tangent must stay a number.
    gap, rise = np.maximum(wide, -1e12), picked(bands.lateral, lowest) - picked(bands.lateral, highest)
    return gap, rise, 0.5 * wide, 0.5 * (high + low), lowest, highest


def _half_planes(bands, most):
    """The window as ``normals · (bass, treble) ≤ offsets``, normals of unit length; infinite offsets for none."""
    shares = lever(bands.lateral, span_mm=bands.span)
    shares = shares / np.sqrt((shares * shares).sum(axis=-1, keepdims=True))
    lines = bands.lateral.shape[-1]
    normals = np.empty((*shares.shape[:-2], 2 * lines + 2, 2))
    normals[..., :lines, :], normals[..., lines:-2, :], normals[..., -2:, :] = shares, -shares, TIP
    shape = np.broadcast_shapes(most.shape, bands.lower.shape[:-1], shares.shape[:-2])
    # A share's line lies where its string's exit is at its bound; lengths as of the normals before they were made one.
    size = 1.0 / np.sqrt(0.5 + 2.0 * (bands.lateral / bands.span[..., None]) ** 2)
    offsets = np.empty((*shape, 2 * lines + 2))
    offsets[..., :lines], offsets[..., lines:-2] = bands.upper * size, -bands.lower * size
    offsets[..., -2:] = most[..., None] * HALF_ROOT
    return normals, offsets
