"""Which way a saddle faces, how far its crest can go, and which way it ought to face. All elementwise.

A saddle has a sloped and a flat face and its crest at one of them. Turned round in the bridge it carries its crest
along by about its thickness without any turn of the screw: about 2 mm, common practice, no source.
"""

from dataclasses import dataclass

import numpy as np

from geometry.errors import GeometryError, as_not_negative, as_numbers

__all__ = ["FLAT_TO_FRONT", "FLAT_TO_REAR", "Reach", "saddle_reach", "usual_facing"]

FLAT_TO_REAR, FLAT_TO_FRONT = 1.0, -1.0  # crest furthest back, crest furthest forward


@dataclass(frozen=True)
class Reach:
    """Whether a crest gets where it ought to, as the saddle faces and turned round; see `saddle_reach`.

    Attributes
    ----------
    reaches, reaches_turned : numpy.ndarray
        Whether the screw's travel suffices, as it faces and turned round; False where unknown.
    screw_mm, screw_turned_mm : numpy.ndarray
        Move of the screw in either case, back positive [mm].
    left_mm, left_turned_mm : numpy.ndarray
        Travel that would be left towards the nearer stop; negative by how much it falls short [mm].
    turn : numpy.ndarray
        Whether to turn it round: it does not reach as it is, and does turned.
    best_facing : numpy.ndarray
        Facing that leaves most travel; NaN where unknown.
    short_mm : numpy.ndarray
        By how much the better of the two ways falls short; 0 where one reaches [mm].
    """

    reaches: np.ndarray
    reaches_turned: np.ndarray
    screw_mm: np.ndarray
    screw_turned_mm: np.ndarray
    left_mm: np.ndarray
    left_turned_mm: np.ndarray
    turn: np.ndarray
    best_facing: np.ndarray
    short_mm: np.ndarray


def saddle_reach(move_mm, *, back_left_mm, forward_left_mm, facing, turn_shift_mm=2.0):
    """Where a crest's move takes the screw, as the saddle faces and turned round.

    Turning from flat-to-front to flat-to-rear takes the crest `turn_shift_mm` back, so the screw has that much less to
    do, and the other way about. Derived.

    Parameters
    ----------
    move_mm : array_like
        How far the crest must go, back (longer string) positive [mm].
    back_left_mm, forward_left_mm : array_like
        Travel left on the screw either way, 0 or more [mm]; NaN where not read.
    facing : array_like
        `FLAT_TO_REAR` (1) or `FLAT_TO_FRONT` (−1); NaN where unknown, then only the present way is answered.
    turn_shift_mm : array_like
        How far the crest goes when the saddle is turned round, 0 or more [mm].

    Returns
    -------
    Reach
        Both ways, the better one, and what falls short.

    Examples
    --------
    >>> reach = saddle_reach([1.0, 3.0, 6.0], back_left_mm=2.0, forward_left_mm=7.0, facing=FLAT_TO_FRONT)
    >>> reach.turn.tolist(), reach.short_mm.tolist(), reach.screw_turned_mm.tolist()
    ([False, True, False], [0.0, 0.0, 2.0], [-1.0, 1.0, 4.0])
    >>> reach.best_facing.tolist()
    [1.0, 1.0, 1.0]
    """
    move, facing = as_numbers("move_mm", move_mm), as_numbers("facing", facing)
    if np.count_nonzero((np.abs(facing) != 1.0) & ~np.isnan(facing)):
        raise GeometryError("facing", facing.tolist(), "1 (flat to rear) or -1 (flat to front)")
    back = as_not_negative("back_left_mm", back_left_mm)
    ahead = as_not_negative("forward_left_mm", forward_left_mm)
    turned = move + facing * as_not_negative("turn_shift_mm", turn_shift_mm)
    left, left_turned = (np.minimum(back - screw, ahead + screw) for screw in (move, turned))
    reaches, reaches_turned = left >= 0, left_turned >= 0
    best = np.where(left_turned > left, -facing, facing)
    short = np.maximum(-np.fmax(left, left_turned), 0.0)
    return Reach(
        reaches, reaches_turned, move + 0.0 * left, turned + 0.0 * left, left, left_turned,
        reaches_turned & ~reaches & ~np.isnan(left), np.where(np.isnan(left), np.nan, best)[()], short[()],
    )  # fmt: skip


def usual_facing(count):
    """Where one starts: the lower half flat to the rear, the upper half flat to the front.

    Common practice, no source: low strings need their crest further back.

    Parameters
    ----------
    count : int
        Strings.

    Returns
    -------
    numpy.ndarray
        Per string: `FLAT_TO_REAR` or `FLAT_TO_FRONT`; the middle one of an odd number to the rear.

    Examples
    --------
    >>> usual_facing(6).tolist()
    [1.0, 1.0, 1.0, -1.0, -1.0, -1.0]
    """
    return np.where(np.arange(count) < 0.5 * count, FLAT_TO_REAR, FLAT_TO_FRONT)
