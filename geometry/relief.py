"""Relief: how far the crowns of a bowed neck hang below the chord from the first to the last."""

import numpy as np

from geometry.errors import GeometryError, as_numbers
from geometry.frets import fret_fraction

__all__ = ["hang_fraction", "hang_from_crowns_mm", "relief_from_gap_mm"]

FIRST_FRET = 1


def hang_fraction(fret, *, end_fret):
    """Hang of the crowns below the chord from the first to the last fret, per unit of relief. Elementwise.

    ``4·t·(1 − t)`` with t the way from the first fret (0) to the last (1): a parabola, which differs from a circle
    by less than 1e-6 mm at any usual relief. Derived.

    NaN where an argument is NaN.

    Parameters
    ----------
    fret : array_like
        Fret number; 0 is the nut, where the neck rises above the chord and the answer is negative.
    end_fret : array_like
        Number of the last fret, above 1.

    Returns
    -------
    numpy.ndarray or float
        1 half-way along, 0 at both ends, negative outside.

    Examples
    --------
    >>> hang_fraction([1, 7, 22], end_fret=22).round(3).tolist()
    [0.0, 0.972, 0.0]
    """
    last = as_numbers("end_fret", end_fret)
    if np.count_nonzero(last <= FIRST_FRET):
        raise GeometryError("end_fret", last.tolist(), "above 1")
    first, end = fret_fraction(FIRST_FRET), fret_fraction(last)
    way = (fret_fraction(fret) - first) / (end - first)
    return 4.0 * way * (1.0 - way)


def relief_from_gap_mm(gap_mm, *, fret, end_fret):
    """Relief from a gap read at any fret under a straightedge on the first and the last. Elementwise.

    ``gap / hang_fraction``. Derived from the parabola.

    Parameters
    ----------
    gap_mm : array_like
        Gap between straightedge and crown; negative for a back-bow [mm].
    fret : array_like
        Where it was read: between the first and the last fret.
    end_fret : array_like
        Number of the last fret.

    Returns
    -------
    numpy.ndarray or float
        Sagitta of the whole board [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(relief_from_gap_mm(0.1945, fret=7, end_fret=22).round(3))
    0.2
    """
    share = hang_fraction(fret, end_fret=end_fret)
    if (share <= 0).any():
        raise GeometryError("fret", fret, "between the first and the last fret")
    return as_numbers("gap_mm", gap_mm) / share


def hang_from_crowns_mm(crown_mm, *, end_fret):
    """Hang of measured crowns below the chord from the first to the last.

    For a neck that is not a parabola: pass the answer's column for a fret as ``hang_mm`` to the functions here.

    Parameters
    ----------
    crown_mm : array_like
        Shape (..., frets): heights of crowns 1, 2, … `end_fret` in the middle of the board over any straight line
        along it [mm]; NaN where not read.
    end_fret : int
        Number of the last fret; the length of the last axis.

    Returns
    -------
    numpy.ndarray
        Shape (..., frets): 0 at both ends [mm]; all NaN where an end was not read.

    Examples
    --------
    >>> hang_from_crowns_mm([2.0, 1.9, 1.8, 2.0], end_fret=4).round(3).tolist()
    [0.0, 0.1, 0.2, 0.0]
    """
    crown = as_numbers("crown_mm", crown_mm, strings=True)
    if crown.shape[-1] != end_fret:
        raise GeometryError("crown_mm", crown.shape, f"of one height for each of {end_fret} frets")
    along = fret_fraction(np.arange(1, crown.shape[-1] + 1))
    way = (along - along[0]) / (along[-1] - along[0])
    return crown[..., :1] * (1.0 - way) + crown[..., -1:] * way - crown
