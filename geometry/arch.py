"""The arch of the crests against what the board asks for, and how to mend the saddle slots."""

from dataclasses import dataclass

import numpy as np

from geometry.bridge import post_moves
from geometry.errors import as_numbers

__all__ = ["ArchFit", "fit_arch"]

TOUCH = 1e-9  # mm; a line through two points counts as below a third one within this


@dataclass(frozen=True)
class ArchFit:
    """Crests held against the arch they ought to have; see `fit_arch`.

    Attributes
    ----------
    bass_mm, treble_mm : numpy.ndarray
        Per instrument: post moves that bring the crests nearest, slots as they are; up positive [mm].
    error_mm : numpy.ndarray
        Per string: how much too high (positive) or too low a slot stays after those moves [mm].
    cut_mm : numpy.ndarray
        Per string: how much lower to cut each slot so that every crest comes right, 0 or more, least in sum [mm].
    cut_bass_mm, cut_treble_mm : numpy.ndarray
        Per instrument: the post moves that go with those cuts; up positive [mm].
    """

    bass_mm: np.ndarray
    treble_mm: np.ndarray
    error_mm: np.ndarray
    cut_mm: np.ndarray
    cut_bass_mm: np.ndarray
    cut_treble_mm: np.ndarray


def fit_arch(crest_mm, wanted_mm, *, lateral_mm, span_mm):
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
    nearest = post_moves(wanted - crest, lateral_mm=lateral, span_mm=span_mm)
    floor = _line_below(crest - wanted, lateral)
    lowered = post_moves(-floor, lateral_mm=lateral, span_mm=span_mm)
    return ArchFit(
        nearest.bass_mm, nearest.treble_mm, -nearest.remains_mm,
        np.maximum(crest - wanted - floor, 0.0), lowered.bass_mm, lowered.treble_mm,
    )  # fmt: skip


def _line_below(excess, lateral):
    """Per string, the straight line that lies below every excess and is highest on average."""
    excess, lateral = np.broadcast_arrays(excess + 0.0 * lateral, lateral + 0.0 * excess)
    gone = np.isnan(excess)
    count = excess.shape[-1]
    one, other = np.triu_indices(count, 1)
    middle = np.nansum(lateral, axis=-1) / np.maximum((~gone).sum(axis=-1), 1)
    rise, run = excess[..., other] - excess[..., one], lateral[..., other] - lateral[..., one]
    slope = rise / np.where(run == 0, np.nan, run)
    # A level line through each single string stands in where there are not two.
    slope = np.concatenate([slope, np.zeros((*slope.shape[:-1], count))], axis=-1)
    through = np.concatenate([one, np.arange(count)])
    at_middle = excess[..., through] + slope * (middle[..., None] - lateral[..., through])
    lines = at_middle[..., None] + slope[..., None] * (lateral - middle[..., None])[..., None, :]
    over = np.where(gone[..., None, :], False, lines > excess[..., None, :] + TOUCH).any(axis=-1)
    level = np.where(over | np.isnan(at_middle), -np.inf, at_middle)
    best = np.argmax(level, axis=-1)[..., None, None]
    found = np.take_along_axis(lines, np.broadcast_to(best, (*lines.shape[:-2], 1, count)), axis=-2)[..., 0, :]
    return np.where(gone, np.nan, found)
