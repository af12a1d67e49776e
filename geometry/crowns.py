"""Crowns of all frets under all strings at once: what fretted strings rest on and vibrate over."""

from dataclasses import replace

import numpy as np

from geometry.errors import GeometryError, as_numbers
from geometry.neck import crown_height_mm
from geometry.prediction import fret_numbers

__all__ = ["crown_map_mm", "crown_rise_mm", "fret_count", "over_frets"]


def fret_count(neck):
    """Number of frets of a neck, or of many that all have the same number.

    Parameters
    ----------
    neck : geometry.neck.Neck
        `end_fret` is one whole number, or the same for all.

    Returns
    -------
    int
        Frets.

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> fret_count(Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22))
    22
    """
    counts = np.unique(neck.end_fret)
    if len(counts) != 1 or counts[0] != np.floor(counts[0]):
        raise GeometryError("neck.end_fret", neck.end_fret.tolist(), "one whole number, the same for all instruments")
    return int(counts[0])


def over_frets(neck):
    """The same neck with an axis for frets before that of the strings, so that fret numbers broadcast over it.

    Parameters
    ----------
    neck : geometry.neck.Neck
        Per-string fields of shape (..., strings).

    Returns
    -------
    geometry.neck.Neck
        Per-string fields of shape (..., 1, strings), per-instrument ones of shape (..., 1).

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> over_frets(Neck([628.0, 628.0], [-17, 17], [-25, 25], 305.0, 305.0, 22)).scale_mm.shape
    (1, 2)
    """
    spread = {name: getattr(neck, name)[..., None, :] for name in neck.PER_STRING}
    single = {name: getattr(neck, name)[..., None] for name in ("radius_nut_mm", "radius_end_mm", "end_fret")}
    return replace(neck, **spread, **single)


def crown_map_mm(neck, *, relief_mm=0.0, hang_mm=None, level_mm=0.0, frets=None):
    """Height of every crown under every string in the fret frame, readings of a fret levelling included.

    Relief's parabola, or the measured hang instead of it, and the arch of the board: `geometry.neck.crown_height_mm`;
    plus what each crown stands high or low by itself.

    Derived: the sum of `geometry.neck.crown_height_mm` and what was measured of single crowns.

    Parameters
    ----------
    neck : geometry.neck.Neck
        The neck; shape (...,) of instruments.
    relief_mm : array_like
        Per instrument, shape (...) [mm].
    hang_mm : array_like, optional
        Shape (..., frets): measured hang of every fret instead of the parabola: `geometry.relief.hang_from_crowns_mm`
        [mm].
    level_mm : array_like
        Shape (..., frets, strings), or (..., frets, 1) for a whole fret: how much a crown stands high (positive) or low
        [mm]; one number for all.
    frets : int or array_like, optional
        How many frets from the first on, or fret numbers of one axis; all of the neck if not given.

    Returns
    -------
    numpy.ndarray
        Shape (..., frets, strings) [mm]; NaN where something is missing.

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> crown_map_mm(neck, relief_mm=0.2, level_mm=0.05, frets=[1, 7, 22])[:, 0].round(3).tolist()
    [0.05, -0.144, 0.05]
    """
    numbers = fret_numbers(fret_count(neck) if frets is None else frets)
    level = as_numbers("level_mm", level_mm)
    if level.ndim == 1:
        raise GeometryError("level_mm", level.shape, "shaped (..., frets, strings) or (..., frets, 1)")
    hang = None if hang_mm is None else as_numbers("hang_mm", hang_mm)
    if hang is not None and hang.shape[-1:] != numbers.shape:
        raise GeometryError("hang_mm", hang.shape, f"of one hang for each of {len(numbers)} frets")
    relief = as_numbers("relief_mm", relief_mm)[..., None]
    return crown_height_mm(over_frets(neck), numbers, relief_mm=relief, hang_mm=hang) + level


def crown_rise_mm(crown_mm, *, frets=None):
    """How far each crown stands over the straight line across its two neighbours: what a short straightedge rocks on.

    ``z_n − [z_{n−1}·(x_{n+1} − x_n) + z_{n+1}·(x_n − x_{n−1})]/(x_{n+1} − x_{n−1})``. Derived.

    Parameters
    ----------
    crown_mm : array_like
        Shape (..., frets): crowns along one string or the middle of the board, over any straight line [mm].
    frets : int or array_like, optional
        Their numbers; 1, 2, … if not given.

    Returns
    -------
    numpy.ndarray
        Shape (..., frets): positive where a crown is high; NaN at both ends and beside a missing one [mm].

    Examples
    --------
    >>> crown_rise_mm([0.0, 0.0, 0.08, 0.0, 0.0]).round(3).tolist()
    [nan, -0.041, 0.08, -0.039, nan]
    """
    crown = as_numbers("crown_mm", crown_mm, strings=True)
    numbers = fret_numbers(max(crown.shape[-1], 1) if frets is None else frets)
    if crown.shape[-1:] != numbers.shape:
        raise GeometryError("crown_mm", crown.shape, f"of one height for each of {len(numbers)} frets")
    along = -np.exp2(-numbers / 12.0)
    rise = np.full(crown.shape, np.nan)
    share = (along[1:-1] - along[:-2]) / (along[2:] - along[:-2])
    rise[..., 1:-1] = crown[..., 1:-1] - crown[..., :-2] * (1.0 - share) - crown[..., 2:] * share
    return rise
