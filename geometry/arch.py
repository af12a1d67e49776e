"""The arch of the crests against what the board asks for, and how to mend the saddle slots."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from geometry.batching import picked
from geometry.bridge import post_moves
from geometry.errors import as_numbers, as_positive

__all__ = ["ArchFit", "fit_arch"]

HAIR = 1e-7  # mm


@dataclass(frozen=True)
class ArchFit:
    """Crests held against the arch they ought to have; see `fit_arch`.

    Attributes
    ----------
    bass_mm, treble_mm : numpy.ndarray
        Per instrument: post moves that bring the crests nearest, slots as they are; up positive [mm].
    bass_standard_mm, treble_standard_mm : numpy.ndarray
        Per instrument: standard uncertainties of those moves [mm].
    error_mm : numpy.ndarray
        Per string: how much too high (positive) or too low a slot stays after those moves [mm].
    cut_mm : numpy.ndarray
        Per string: how much lower to cut each slot so that every crest comes right, 0 or more, least in sum [mm].
    cut_bass_mm, cut_treble_mm : numpy.ndarray
        Per instrument: the post moves that go with those cuts; up positive [mm].
    """

    bass_mm: np.ndarray
    treble_mm: np.ndarray
    bass_standard_mm: np.ndarray
    treble_standard_mm: np.ndarray
    error_mm: np.ndarray
    cut_mm: np.ndarray
    cut_bass_mm: np.ndarray
    cut_treble_mm: np.ndarray


def fit_arch(crest_mm, wanted_mm, *, lateral_mm, span_mm, standard_mm=0.0):
    """Compare crests with wanted ones, posts free to move, and find the cuts that make them equal.

    The posts take up any straight line ``a + b·y``; what is left of ``crest − wanted`` is the arch's own error. Slots
    can be cut lower, never higher: the cuts are least in sum when that line touches the differences from below, and
    then it goes through two of them. Derived.

    Parameters
    ----------
    crest_mm : array_like
        Per string: crests as they are, over any level [mm]; NaN where not read.
    wanted_mm : array_like
        Per string: crests as they ought to be, over the same level: `geometry.neck.crest_from_height_mm` of the wanted
        heights [mm].
    lateral_mm : array_like
        Per string [mm].
    span_mm : array_like
        Per instrument: distance between the posts, above 0 [mm].
    standard_mm : array_like
        Per string, or one number: standard uncertainty of ``crest − wanted`` [mm].

    Returns
    -------
    ArchFit
        Fit, errors and cuts; NaN where no string is left.

    Examples
    --------
    >>> fit = fit_arch([14.0, 15.0, 15.3, 14.0], [14.0, 15.0, 15.0, 14.0], lateral_mm=[-24, -8, 8, 24], span_mm=74)
    >>> fit.error_mm.round(3).tolist()
    [-0.03, -0.06, 0.21, -0.12]
    >>> fit.cut_mm.round(6).tolist(), float(abs(fit.cut_bass_mm).round(6))
    ([0.0, 0.0, 0.3, 0.0], 0.0)
    """
    crest, wanted = as_numbers("crest_mm", crest_mm, strings=True), as_numbers("wanted_mm", wanted_mm, strings=True)
    lateral = as_numbers("lateral_mm", lateral_mm, strings=True)
    excess = crest - wanted
    nearest = post_moves(-excess, lateral_mm=lateral, span_mm=span_mm, standard_mm=standard_mm)
    level, slope = _line_below(excess, lateral)
    half = 0.5 * as_positive("span_mm", span_mm) * slope
    floor = level[..., None] + slope[..., None] * lateral
    return ArchFit(
        nearest.bass_mm, nearest.treble_mm, nearest.bass_standard_mm, nearest.treble_standard_mm, -nearest.remains_mm,
        np.maximum(excess - floor, 0.0), half - level, -half - level,
    )  # fmt: skip


def _line_below(excess, lateral):
    """Level in the middle of the bridge, and slope, of the line that lies below every excess and is highest on average.

    Its value at the strings' mean place is that of the lower convex hull there: the least of all straight lines between
    a string on one side and one on the other. Where there are not two sides it is level through the lowest.
    """
    total = excess + lateral
    gone = np.isnan(total)
    count = gone.shape[-1]
    height, place = np.where(gone, 0.0, excess), np.where(gone, 0.0, lateral)
    # A hair beside the mean, so that no string stands exactly there and belongs to both sides.
    middle = np.add.reduce(place, axis=-1) / np.maximum(count - np.add.reduce(gone, axis=-1), 1) + HAIR
    aside = np.where(gone, np.nan, place - middle[..., None])
    lowest = np.minimum.reduce(np.where(gone, np.inf, excess), axis=-1)
    level, slope = lowest, np.zeros_like(lowest)
    one, other = _pairs(count)
    if one.size:
        near, far = aside.take(one, axis=-1), aside.take(other, axis=-1)
        start, end = height.take(one, axis=-1), height.take(other, axis=-1)
        across = near * far < 0
        tilt = np.where(across, end - start, 0.0) / np.where(across, far - near, 1.0)
        value = np.where(across, start - tilt * near, np.inf)
        best = value.argmin(axis=-1)
        found = picked(value, best)
        level, slope = np.where(np.isinf(found), (level, slope), (found, picked(tilt, best)))
    none = np.isinf(lowest)
    return np.where(none, np.nan, level - slope * middle), np.where(none, np.nan, slope)


@lru_cache(maxsize=32)
def _pairs(count):
    """Every pair of strings as two arrays of indices."""
    return np.triu_indices(count, 1)
