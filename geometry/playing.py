"""Clearance while playing: a fretted string over the crowns beyond, how far a pluck swings it, and where it buzzes."""

from dataclasses import dataclass

import numpy as np

from geometry.crowns import fret_count, over_frets
from geometry.errors import GeometryError, as_not_negative, as_numbers, as_positive, as_within

__all__ = ["BuzzMap", "buzz_map", "fretted_clearance_mm", "pluck_height_mm", "pluck_reach_mm"]


@dataclass(frozen=True)
class BuzzMap:
    """Margins of every string fretted everywhere; see `buzz_map`. Positions count from 0, the open string.

    Attributes
    ----------
    margin_mm : numpy.ndarray
        Shape (..., positions, strings): smallest clearance less reach over the crowns beyond; negative where the string
        strikes one; NaN where it is missing [mm].
    crown : numpy.ndarray
        Same shape: number of the fret where that is; NaN with the margin.
    smallest_mm : numpy.ndarray
        Per string: smallest margin of all [mm].
    smallest_position, smallest_crown : numpy.ndarray
        Per string: where it is fretted then, and over which fret.
    first_position : numpy.ndarray
        Per string: lowest position in which it strikes a crown; NaN where it strikes none.
    """

    margin_mm: np.ndarray
    crown: np.ndarray
    smallest_mm: np.ndarray
    smallest_position: np.ndarray
    smallest_crown: np.ndarray
    first_position: np.ndarray


def pluck_height_mm(pluck_n, *, from_saddle_mm, length_mm, tension_n):
    """How far a pluck draws the string aside where it is plucked, ``F·p·(ℓ − p)/(T·ℓ)``. Elementwise.

    Source: statics of a string under tension, small slopes; University Physics volume 1, module m58300, works the same
    triangle.

    Parameters
    ----------
    pluck_n : array_like
        Force across the string, 0 or more [N].
    from_saddle_mm : array_like
        Where it is plucked, from the saddle, 0 to `length_mm` [mm].
    length_mm : array_like
        Speaking length, above 0 [mm].
    tension_n : array_like
        Tension, above 0 [N].

    Returns
    -------
    numpy.ndarray or float
        [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(pluck_height_mm(2.0, from_saddle_mm=130.0, length_mm=650.0, tension_n=70.0).round(4))
    2.9714
    """
    return pluck_reach_mm(
        from_saddle_mm, pluck_n=pluck_n, pluck_from_saddle_mm=from_saddle_mm, length_mm=length_mm,
        tension_n=tension_n, reflected=False,
    )  # fmt: skip


def pluck_reach_mm(from_saddle_mm, *, pluck_n, pluck_from_saddle_mm, length_mm, tension_n, reflected=True):
    """Furthest a plucked string ever gets from rest at a place along it. Elementwise.

    A string starts as a triangle and, half a period later, is the same triangle turned round its middle point; an ideal
    one never leaves the parallelogram of the two, so ``max(Δ(s), Δ(ℓ − s))`` with
    ``Δ(s) = F/(T·ℓ)·min(s, p)·(ℓ − max(s, p))`` bounds it at every place and time. Derived from d'Alembert's solution;
    losses and stiffness only make it less.

    Parameters
    ----------
    from_saddle_mm : array_like
        Place, from the saddle, 0 to `length_mm` [mm].
    pluck_n : array_like
        Force across the string towards the board, 0 or more [N].
    pluck_from_saddle_mm : array_like
        Where it is plucked, from the saddle, 0 to `length_mm` [mm].
    length_mm : array_like
        Speaking length, above 0 [mm].
    tension_n : array_like
        Tension, above 0 [N].
    reflected : bool
        False for the triangle at the start alone.

    Returns
    -------
    numpy.ndarray or float
        0 or more [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> known = {"pluck_n": 2.0, "pluck_from_saddle_mm": 130.0, "length_mm": 650.0, "tension_n": 70.0}
    >>> pluck_reach_mm([0.0, 130.0, 325.0, 520.0, 650.0], **known).round(4).tolist()
    [0.0, 2.9714, 1.8571, 2.9714, 0.0]
    """
    place, length = as_numbers("from_saddle_mm", from_saddle_mm), as_positive("length_mm", length_mm)
    pluck = as_numbers("pluck_from_saddle_mm", pluck_from_saddle_mm)
    for name, value in (("from_saddle_mm", place), ("pluck_from_saddle_mm", pluck)):
        if ((value < 0) | (value > length)).any():
            raise GeometryError(name, value, "from 0 to length_mm")
    slope = as_not_negative("pluck_n", pluck_n) / (as_positive("tension_n", tension_n) * length)
    return slope * _triangle(place, pluck, length, reflected)


def _triangle(place, pluck, length, reflected):
    start = np.minimum(place, pluck) * (length - np.maximum(place, pluck))
    if not reflected:
        return start
    return np.maximum(start, np.minimum(length - place, pluck) * (length - np.maximum(length - place, pluck)))


def fretted_clearance_mm(neck, *, crown_mm, nut_mm, crest_mm, crest_x_mm=None, position):
    """Clearance of each string, fretted at a position, over every crown beyond it.

    A straight line from that crown (position 0: from the nut slot) to the crest, less the crowns under it. Derived.

    Parameters
    ----------
    neck : geometry.neck.Neck
        The neck.
    crown_mm : array_like
        Shape (..., frets, strings): all crowns of the neck: `geometry.crowns.crown_map_mm` [mm].
    nut_mm, crest_mm : array_like
        Per string: bottom of the slot and crest in the fret frame [mm].
    crest_x_mm : array_like, optional
        Per string: crest's distance from the nut; the scale if not given [mm].
    position : int
        Fret at which the string is held, 0 for open.

    Returns
    -------
    numpy.ndarray
        Shape (..., frets, strings); NaN up to and at the position, and where something is missing [mm].

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> found = fretted_clearance_mm(neck, crown_mm=[[0.0]] * 22, nut_mm=[0.4], crest_mm=[3.0], position=12)
    >>> found[[11, 12, 21], 0].round(3).tolist()
    [nan, 0.168, 1.316]
    """
    frame = _Frame(neck, crown_mm, nut_mm, crest_mm, crest_x_mm)
    if not isinstance(position, (int, np.integer)) or not 0 <= position < frame.count:
        raise GeometryError("position", position, f"a fret from 0 to {frame.count - 1}")
    beyond = frame.clearance(position)
    return np.concatenate([np.full((*beyond.shape[:-2], position, beyond.shape[-1]), np.nan), beyond], axis=-2)


def buzz_map(
    neck, *, crown_mm, nut_mm, crest_mm, tension_n, pluck_n=0.3, pluck_share=0.15, crest_x_mm=None
):  # fmt: skip
    """Margins of every string in every position against striking a crown when it is plucked.

    Clearance of the fretted string over each crown beyond (`fretted_clearance_mm`), less the pluck's reach there
    (`pluck_reach_mm`), the smallest of them. The tension is taken as that of the open string: fretting raises it a
    little, so the reach is slightly overstated.

    Parameters
    ----------
    neck : geometry.neck.Neck
        The neck.
    crown_mm : array_like
        Shape (..., frets, strings): all crowns of the neck: `geometry.crowns.crown_map_mm` [mm].
    nut_mm, crest_mm : array_like
        Per string: bottom of the slot and crest in the fret frame [mm].
    tension_n : array_like
        Per string: tension, above 0 [N].
    pluck_n : array_like
        Per string, or one number: force of the pluck at right angles to the board, 0 or more; 0.3 stands for
        ordinary playing, of whose force most is along the board: with it strings in the middle of usual ranges just
        clear (common practice, no source) [N].
    pluck_share : array_like
        Per string, or one number: where it is plucked, as a share of the scale from the saddle, 0 to 1.
    crest_x_mm : array_like, optional
        Per string: crest's distance from the nut; the scale if not given [mm].

    Returns
    -------
    BuzzMap
        Positions from 0 to the last fret but one.

    Examples
    --------
    >>> from geometry.crowns import crown_map_mm
    >>> from geometry.neck import Neck
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> level = np.zeros((22, 1))
    >>> level[7] = 0.25
    >>> crown = crown_map_mm(neck, relief_mm=0.2, level_mm=level)
    >>> found = buzz_map(neck, crown_mm=crown, nut_mm=[0.4], crest_mm=[4.0], tension_n=[70.0])
    >>> found.first_position.tolist(), found.crown[[6, 7], 0].tolist(), found.margin_mm[[6, 7], 0].round(2).tolist()
    ([7.0], [8.0, 8.0], [0.06, -0.09])
    """
    frame = _Frame(neck, crown_mm, nut_mm, crest_mm, crest_x_mm)
    tension = as_positive("tension_n", tension_n, strings=True)
    force = as_not_negative("pluck_n", pluck_n)
    pluck = as_within("pluck_share", pluck_share, 0.0, 1.0) * neck.scale_mm
    if (pluck[..., None, :] > frame.end - frame.along[..., -1:, :]).any():
        raise GeometryError("pluck_share", pluck_share, "such that the string is plucked beyond the last fret")
    found = [_tightest(frame, position, pluck, force / tension) for position in range(frame.count)]
    margin, crown = (np.stack(np.broadcast_arrays(*part), axis=-2) for part in zip(*found, strict=True))
    return BuzzMap(margin, crown, *_summary(margin, crown))


def _tightest(frame, position, pluck, slope):
    """Smallest margin beyond a position, and the crown where it is."""
    length = frame.end - frame.x(position)
    place = frame.end - frame.along[..., position:, :]
    reach = slope[..., None, :] / length * _triangle(place, pluck[..., None, :], length, True)
    margin = frame.clearance(position) - reach
    gone = np.isnan(margin)
    best = np.argmin(np.where(gone, np.inf, margin), axis=-2)
    smallest = np.take_along_axis(margin, best[..., None, :], axis=-2)[..., 0, :]
    return smallest, np.where(np.isnan(smallest), np.nan, best + position + 1.0)


def _summary(margin, crown):
    """Smallest of all positions and where; first position that strikes."""
    known = np.where(np.isnan(margin), np.inf, margin)
    best = np.argmin(known, axis=-2)[..., None, :]
    smallest, over = (np.take_along_axis(one, best, axis=-2)[..., 0, :] for one in (margin, crown))
    strikes = margin < 0.0
    first = np.where(strikes.any(axis=-2), np.argmax(strikes, axis=-2), np.nan)
    return smallest, np.where(np.isnan(smallest), np.nan, best[..., 0, :]), over, first


class _Frame:
    """Crowns, slots and crests in the fret frame, shape (..., frets, strings)."""

    def __init__(self, neck, crown_mm, nut_mm, crest_mm, crest_x_mm):
        self.count = fret_count(neck)
        self.crown = as_numbers("crown_mm", crown_mm)
        if self.crown.ndim < 2 or self.crown.shape[-2] != self.count:
            raise GeometryError("crown_mm", self.crown.shape, f"shaped (..., {self.count}, strings)")
        self.nut = as_numbers("nut_mm", nut_mm, strings=True)[..., None, :]
        self.crest = as_numbers("crest_mm", crest_mm, strings=True)[..., None, :]
        self.along = over_frets(neck).fret_x_mm(np.arange(1.0, self.count + 1.0))
        end = neck.scale_mm if crest_x_mm is None else as_positive("crest_x_mm", crest_x_mm, strings=True)
        self.end = end[..., None, :]
        if (self.end <= self.along[..., -1:, :]).any():
            raise GeometryError("crest_x_mm", end, "beyond the last fret")

    def x(self, position):
        """Where the string starts to sound."""
        return self.along[..., position - 1 : position, :] if position else np.zeros(1)

    def clearance(self, position):
        """Of the string held at a position, over every crown beyond."""
        start, level = self.x(position), self.crown[..., position - 1 : position, :] if position else self.nut
        way = (self.along[..., position:, :] - start) / (self.end - start)
        return level + (self.crest - level) * way - self.crown[..., position:, :]
