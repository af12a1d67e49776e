"""Nut slots and crests of a whole worksheet in one go: the crowns of each fret are worked out once."""

from dataclasses import dataclass

import numpy as np

from geometry.errors import GeometryError, as_not_negative, as_numbers
from geometry.frets import fret_fraction
from geometry.neck import crown_height_mm
from geometry.relief import hang_fraction

__all__ = ["StringsRead", "strings_from_readings"]


@dataclass(frozen=True)
class StringsRead:
    """Where the strings run, from readings; see `strings_from_readings`.

    Attributes
    ----------
    nut_mm, crest_mm : numpy.ndarray
        Per string: bottom of the slot and crest, in the fret frame [mm].
    nut_standard_mm, crest_standard_mm : numpy.ndarray
        Per string: their standard uncertainties [mm].
    """

    nut_mm: np.ndarray
    crest_mm: np.ndarray
    nut_standard_mm: np.ndarray
    crest_standard_mm: np.ndarray


def strings_from_readings(
    neck, *, gap_mm, height_mm, relief_mm, gap_standard_mm=0.0, height_standard_mm=0.0, relief_standard_mm=0.0,
    fret=12, held_fret=3, gap_fret=1,
):  # fmt: skip
    """Slots and crests, with their uncertainties, from nut gaps, heights over a fret and relief.

    The same numbers as `geometry.neck.nut_from_gap_mm`, `geometry.neck.crest_from_height_mm` and
    `geometry.derived_uncertainty.nut_standard_mm` and `geometry.derived_uncertainty.crest_standard_mm` one by one,
    crests standing at the scale's length, in about half the time. Derived.

    Parameters
    ----------
    neck : geometry.neck.Neck
        The neck.
    gap_mm, height_mm : array_like
        Per string: gap at the first fret with the string held at another, and height over a fret [mm].
    relief_mm : array_like
        Per instrument [mm].
    gap_standard_mm, height_standard_mm : array_like
        Per string: their standard uncertainties, 0 or more [mm].
    relief_standard_mm : array_like
        Per instrument: the relief's, 0 or more [mm].
    fret, held_fret, gap_fret : int
        Where the height is read, where the string is held for the gap, and where that is read.

    Returns
    -------
    StringsRead
        NaN where a reading that the number needs, or the string, is missing.

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> read = strings_from_readings(neck, gap_mm=[0.15], height_mm=[1.7], relief_mm=0.0, height_standard_mm=[0.03])
    >>> read.nut_mm.round(4).tolist(), read.crest_mm.round(4).tolist(), read.crest_standard_mm.tolist()
    ([0.2318], [3.1682], [0.06])
    """
    gap, height = as_numbers("gap_mm", gap_mm, strings=True), as_numbers("height_mm", height_mm, strings=True)
    relief = as_numbers("relief_mm", relief_mm)
    way, held, place = (fret_fraction(one) for one in (fret, held_fret, gap_fret))
    if not 0.0 < place < held < 1.0:
        raise GeometryError("gap_fret", gap_fret, "above 0 and below held_fret")
    # One leading axis for the three frets, before those of the instruments.
    axes = max(relief.ndim, neck.end_fret.ndim, gap.ndim - 1, height.ndim - 1, neck.scale_mm.ndim - 1)
    three = np.array([gap_fret, held_fret, fret], dtype=float).reshape(3, *(1,) * axes)
    hang = hang_fraction(three, end_fret=neck.end_fret)
    low, firm, under = crown_height_mm(neck, three, hang_mm=hang * relief)
    share = place / held
    nut = (gap + low - firm * share) / (1.0 - share)
    crest = nut + (height + under - nut) / way
    # Relief moves the slot, and the crown under the string.
    by_slot, lifts = (way - 1.0) / (1.0 - share), hang[1] * share - hang[0]
    doubt = as_not_negative("relief_standard_mm", relief_standard_mm)
    u_gap = as_not_negative("gap_standard_mm", gap_standard_mm)
    u_height = as_not_negative("height_standard_mm", height_standard_mm)
    u_nut = np.hypot(u_gap, (lifts * doubt)[..., None]) / (1.0 - share)
    by_relief = ((by_slot * lifts - hang[2]) * doubt)[..., None]
    u_crest = np.hypot(np.hypot(u_height, by_slot * u_gap), by_relief) / way
    return StringsRead(nut, crest, u_nut + 0.0 * nut, u_crest + 0.0 * crest)
