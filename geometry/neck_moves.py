"""What rod, nut slots and posts do to the readings of the bench, as linear effects, and the moves that solve them."""

from dataclasses import dataclass

import numpy as np

from geometry.bridge import lever
from geometry.errors import as_not_negative, as_option, as_positive
from geometry.frets import fret_fraction
from geometry.least_squares import bounded_least_squares
from geometry.neck import relief_lift, relief_tilt_rad_per_mm
from geometry.relief import hang_fraction

__all__ = ["FRET", "ORDER", "Changes", "Effects", "Errors", "NeckMoves", "changes_after", "effects_of", "solve_moves"]

FRET, GAP_FRET, HELD_FRET = 12, 1, 3  # height read at, nut gap read at, string held at
ORDER = ("rod", "nut", "posts", "studs")  # common practice, no source: each disturbs only what comes after it


@dataclass(frozen=True)
class Effects:
    """Change of each reading per mm of each move; see `effects_of`. Per string but for the first.

    Attributes
    ----------
    way : numpy.ndarray
        Per instrument: fret 12 on the way from nut to bridge.
    gap_per_relief, gap_per_nut, height_per_relief, height_per_nut : numpy.ndarray
        Per string.
    post_share : numpy.ndarray
        Shape (..., strings, 2): share of each post's move at each crest.
    nut_lift, crest_lift : numpy.ndarray
        Per string: what relief does to slots and crests, `geometry.neck.relief_lift`.
    tilt_rad_per_mm : numpy.ndarray
        Per string: what relief takes off the fret plane's tilt [rad/mm].
    """

    way: np.ndarray
    gap_per_relief: np.ndarray
    gap_per_nut: np.ndarray
    height_per_relief: np.ndarray
    height_per_nut: np.ndarray
    post_share: np.ndarray
    nut_lift: np.ndarray
    crest_lift: np.ndarray
    tilt_rad_per_mm: np.ndarray


@dataclass(frozen=True)
class Errors:
    """Goals less readings; NaN for no goal or no reading.

    Attributes
    ----------
    relief_mm : numpy.ndarray
        Per instrument [mm].
    nut_gap_mm, height_12_mm : numpy.ndarray
        Per string [mm].
    """

    relief_mm: np.ndarray
    nut_gap_mm: np.ndarray
    height_12_mm: np.ndarray


@dataclass(frozen=True)
class NeckMoves:
    """Moves of rod, slots and posts; see `solve_moves`.

    Attributes
    ----------
    relief_mm, post_bass_mm, post_treble_mm : numpy.ndarray
        Per instrument [mm].
    nut_mm : numpy.ndarray
        Per string: down negative [mm].
    """

    relief_mm: np.ndarray
    nut_mm: np.ndarray
    post_bass_mm: np.ndarray
    post_treble_mm: np.ndarray


@dataclass(frozen=True)
class Changes:
    """What moves change; see `changes_after`.

    Attributes
    ----------
    relief_mm : numpy.ndarray
        Per instrument [mm].
    nut_gap_mm, height_12_mm : numpy.ndarray
        Per string: readings [mm].
    crest_mm : numpy.ndarray
        Per string: crest above the top [mm].
    climb_mm : numpy.ndarray
        Per string: crest over slot in the fret frame [mm].
    tilt_rad : numpy.ndarray
        Per string: what the fret plane's tilt loses [rad].
    """

    relief_mm: np.ndarray
    nut_gap_mm: np.ndarray
    height_12_mm: np.ndarray
    crest_mm: np.ndarray
    climb_mm: np.ndarray
    tilt_rad: np.ndarray


def effects_of(record, *, joint_fret):
    """Linear effects of every move on every reading.

    ``∂gap/∂nut = 1 − x₁/x₃``, ``∂height/∂nut = 1 − w``, ``∂height/∂crest = w`` with ``w = x₁₂/x_crest``; relief acts
    through the crowns' hang and through slots and crests. Derived from `geometry.neck`.

    Parameters
    ----------
    record : geometry.sheet.Record
        The instrument.
    joint_fret : array_like
        Per instrument: the fret at which the neck meets the body.

    Returns
    -------
    Effects
        The effects.

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> from geometry.sheet import Record
    >>> record = Record(neck=Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22), post_span_mm=74.0)
    >>> effects_of(record, joint_fret=16).height_per_relief.round(3).tolist()
    [1.557]
    """
    neck = record.neck
    nut_lift, crest_lift = relief_lift(neck, joint_fret=joint_fret)
    share = fret_fraction(GAP_FRET) / fret_fraction(HELD_FRET)
    hang = {fret: hang_fraction(fret, end_fret=neck.end_fret)[..., None] for fret in (GAP_FRET, HELD_FRET, FRET)}
    way = fret_fraction(FRET)
    return Effects(
        way, (1.0 - share) * nut_lift + hang[GAP_FRET] - share * hang[HELD_FRET], (1.0 - share) + 0.0 * nut_lift,
        (1.0 - way) * nut_lift + way * crest_lift + hang[FRET], (1.0 - way) + 0.0 * nut_lift,
        lever(neck.lateral_bridge_mm, span_mm=record.post_span_mm), nut_lift, crest_lift,
        relief_tilt_rad_per_mm(neck, joint_fret=joint_fret),
    )  # fmt: skip


def solve_moves(
    effects, errors, *, tolerances_mm=None, rod_most_mm=np.inf, post_most_mm=np.inf, nut_raise_mm=0.0
):  # fmt: skip
    """Moves of rod, slots and posts that bring the readings to their goals, or as near as they go.

    Without tolerances in the order of the bench: the rod makes its relief, each slot then its gap under that relief,
    and both posts then the heights over both, nearest in least squares; nothing earlier is spoilt for what comes later.
    With tolerances all errors are weighed against each other in one bounded least squares, which helps where an
    adjuster is at the end of its travel and others can make up for it.

    Derived; the solver is `geometry.least_squares.bounded_least_squares`.

    Parameters
    ----------
    effects : Effects
        What each move does.
    errors : Errors
        What is wanted.
    tolerances_mm : tuple of array_like, optional
        Per instrument: how much an error of relief, nut gap and height counts, above 0 [mm].
    rod_most_mm, post_most_mm, nut_raise_mm : array_like
        Per instrument: most that relief and each post may change, and that a slot may be raised, 0 or more [mm].

    Returns
    -------
    NeckMoves
        0 for an adjuster whose own reading is missing.

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> from geometry.sheet import Record
    >>> record = Record(neck=Neck([628.0] * 2, [-17, 17], [-25, 25], 305.0, 305.0, 22), post_span_mm=74.0)
    >>> wanted = Errors(np.array(np.nan), np.array([np.nan, np.nan]), np.array([-0.5, -0.5]))
    >>> moves = solve_moves(effects_of(record, joint_fret=16), wanted)
    >>> float(moves.post_bass_mm.round(9)), moves.nut_mm.tolist()
    (-1.0, [0.0, 0.0])
    """
    limits = _Limits(
        np.where(np.isnan(errors.relief_mm), 0.0, as_not_negative("rod_most_mm", rod_most_mm)),
        np.where(np.isnan(errors.nut_gap_mm), 0.0, as_not_negative("nut_raise_mm", nut_raise_mm)[..., None]),
        np.where(np.isnan(errors.nut_gap_mm), 0.0, -np.inf),
        np.where(np.isnan(errors.height_12_mm).all(axis=-1), 0.0, as_not_negative("post_most_mm", post_most_mm)),
    )
    if tolerances_mm is None:
        return _in_order(effects, errors, limits)
    return _weighed(effects, errors, limits, [as_positive("tolerances_mm", one) for one in tolerances_mm])


@dataclass(frozen=True)
class _Limits:
    """Most and least that each adjuster may do; nothing for one whose reading is missing."""

    rod: np.ndarray
    raised: np.ndarray
    cut: np.ndarray
    post: np.ndarray

    def posts(self):
        return np.stack([self.post, self.post], axis=-1)


def _in_order(effects, errors, limits):
    relief = np.clip(np.nan_to_num(errors.relief_mm), -limits.rod, limits.rod)
    added = relief[..., None]
    nut = np.nan_to_num((errors.nut_gap_mm - effects.gap_per_relief * added) / effects.gap_per_nut)
    nut = np.clip(nut, limits.cut, limits.raised)
    rest = errors.height_12_mm - effects.height_per_relief * added - effects.height_per_nut * nut
    posts = bounded_least_squares(
        effects.way * effects.post_share, rest, lower=-limits.posts(), upper=limits.posts()
    ).solution  # fmt: skip
    posts = np.nan_to_num(posts)
    return NeckMoves(relief, nut, posts[..., 0], posts[..., 1])


def _weighed(effects, errors, limits, tolerances):
    goal = _row(errors.relief_mm[..., None], errors.nut_gap_mm, errors.height_12_mm)
    count = (goal.shape[-1] - 1) // 2
    weights = _row(*(
        np.repeat(one[..., None] ** -2.0, rows, axis=-1)
        for one, rows in zip(tolerances, (1, count, count), strict=True)
    ))  # fmt: skip
    most = _row(limits.rod[..., None], limits.raised, limits.posts())
    least = _row(-limits.rod[..., None], limits.cut, -limits.posts())
    found = np.nan_to_num(
        bounded_least_squares(_matrix(effects, count), goal, lower=least, upper=most, weights=weights).solution
    )
    return NeckMoves(found[..., 0], found[..., 1:-2], found[..., -2], found[..., -1])


def _row(*parts):
    """Parts side by side on the last axis, their leading axes broadcast."""
    shape = np.broadcast_shapes(*(one.shape[:-1] for one in parts))
    return np.concatenate([np.broadcast_to(one, (*shape, one.shape[-1])) for one in parts], axis=-1)


def _matrix(effects, count):
    """Shape (..., 1 + 2·strings, strings + 3): relief, gaps and heights by rod, slots and posts."""
    shape = np.broadcast_shapes(
        *(one.shape[:-1] for one in (effects.gap_per_relief, effects.height_per_relief, effects.post_share[..., 0]))
    )
    matrix = np.zeros((*shape, 1 + 2 * count, count + 3))
    gaps, heights, each = np.arange(1, 1 + count), np.arange(1 + count, 1 + 2 * count), np.arange(1, 1 + count)
    matrix[..., 0, 0] = 1.0
    matrix[..., gaps, 0], matrix[..., heights, 0] = effects.gap_per_relief, effects.height_per_relief
    matrix[..., gaps, each], matrix[..., heights, each] = effects.gap_per_nut, effects.height_per_nut
    matrix[..., heights[:, None], [-2, -1]] = effects.way * effects.post_share
    return matrix


def changes_after(effects, moves, *, upto="posts"):
    """What the moves change once those up to one of `ORDER` are made.

    Derived: effects are linear, so those of the moves made so far add up.

    Parameters
    ----------
    effects : Effects
        What each move does.
    moves : NeckMoves
        The moves.
    upto : str
        'rod', 'nut' or 'posts'.

    Returns
    -------
    Changes
        Changes of readings, crests and falls.

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> from geometry.sheet import Record
    >>> record = Record(neck=Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22), post_span_mm=74.0)
    >>> moves = NeckMoves(np.array(0.0), np.array([0.0]), np.array(1.0), np.array(1.0))
    >>> changes_after(effects_of(record, joint_fret=16), moves).height_12_mm.tolist()
    [0.5]
    """
    done = ORDER.index(as_option("upto", upto, ORDER[:-1]))
    relief = moves.relief_mm
    nut = moves.nut_mm if done >= 1 else 0.0 * moves.nut_mm
    posts = effects.post_share @ np.stack([moves.post_bass_mm, moves.post_treble_mm], axis=-1)[..., None]
    crest = posts[..., 0] if done >= 2 else 0.0 * posts[..., 0]
    added = relief[..., None]
    return Changes(
        relief, effects.gap_per_relief * added + effects.gap_per_nut * nut,
        effects.height_per_relief * added + effects.height_per_nut * nut + effects.way * crest, crest,
        (effects.crest_lift - effects.nut_lift) * added - nut + crest, effects.tilt_rad_per_mm * added,
    )  # fmt: skip
