"""Nut slots, crests, and the height of every string over every fret, in the fret frame.

The fret frame's plane goes through the middle of the first and of the last crown. Between them the crowns hang below
it by the relief's parabola; across the board they fall away with the radius. A string's underside is a straight line
from the bottom of its nut slot to its crest at the saddle.

Every string measures x along itself, so a fanned board needs nothing more than each string's own scale.
"""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from geometry.errors import GeometryError, as_numbers, as_positive, as_within
from geometry.frets import crown_drop_mm, fret_fraction, fret_radius_mm, string_lateral_mm
from geometry.relief import FIRST_FRET, hang_fraction

__all__ = [
    "Neck", "all_heights_mm", "crest_from_height_mm", "crown_height_mm", "height_at_fret_mm", "nut_from_gap_mm",
    "nut_gap_mm", "relief_lift", "relief_tilt_rad_per_mm",
]  # fmt: skip


@dataclass(frozen=True)
class Neck:
    """What of a neck the heights depend on; checked when it is made.

    Attributes
    ----------
    scale_mm : numpy.ndarray
        Per string, shape (..., strings): scale along the string [mm].
    lateral_nut_mm, lateral_bridge_mm : numpy.ndarray
        Per string: positions across at the nut and at the bridge [mm].
    radius_nut_mm, radius_end_mm : numpy.ndarray
        Per instrument: board radius at the nut and at the last fret; infinite for flat [mm].
    end_fret : numpy.ndarray
        Per instrument: number of the last fret, above 1.

    Examples
    --------
    >>> from geometry.frets import string_spacing_mm
    >>> neck = Neck(scale_mm=np.full(6, 628.0), lateral_nut_mm=string_spacing_mm(6, spread_mm=35.5),
    ...             lateral_bridge_mm=string_spacing_mm(6, spread_mm=51), radius_nut_mm=305.0, radius_end_mm=305.0,
    ...             end_fret=22)
    >>> neck.scale_mm.shape
    (6,)
    """

    PER_STRING: ClassVar = frozenset({"scale_mm", "lateral_nut_mm", "lateral_bridge_mm"})

    scale_mm: np.ndarray
    lateral_nut_mm: np.ndarray
    lateral_bridge_mm: np.ndarray
    radius_nut_mm: np.ndarray
    radius_end_mm: np.ndarray
    end_fret: np.ndarray

    def __post_init__(self):
        checked = {
            "scale_mm": as_positive("scale_mm", self.scale_mm, strings=True),
            "lateral_nut_mm": as_within("lateral_nut_mm", self.lateral_nut_mm, -500.0, 500.0, strings=True),
            "lateral_bridge_mm": as_within("lateral_bridge_mm", self.lateral_bridge_mm, -500.0, 500.0, strings=True),
            "radius_nut_mm": as_numbers("radius_nut_mm", self.radius_nut_mm),
            "radius_end_mm": as_numbers("radius_end_mm", self.radius_end_mm),
            "end_fret": as_positive("end_fret", self.end_fret),
        }
        if (checked["end_fret"] <= FIRST_FRET).any():
            raise GeometryError("end_fret", self.end_fret, "above 1")
        for name, value in checked.items():
            object.__setattr__(self, name, value)

    def lateral_mm(self, fret):
        """Where each string crosses a fret [mm]; `fret` per instrument."""
        return string_lateral_mm(
            fret, lateral_nut_mm=self.lateral_nut_mm, lateral_bridge_mm=self.lateral_bridge_mm
        )

    def fret_x_mm(self, fret):
        """Distance of a fret from the nut along each string [mm]; `fret` per instrument."""
        return self.scale_mm * fret_fraction(fret)[..., None]

    def drop_mm(self, fret):
        """How much lower a crown is under each string than in the middle of the board [mm]."""
        radius = fret_radius_mm(
            fret, radius_nut_mm=self.radius_nut_mm, radius_end_mm=self.radius_end_mm, end_fret=self.end_fret
        )
        return crown_drop_mm(self.lateral_mm(fret), radius_mm=radius[..., None])


def crown_height_mm(neck, fret, *, relief_mm=0.0, hang_mm=None):
    """Height of a fret's crown under each string, in the fret frame.

    ``z = −hang − (R − sqrt(R² − y²))``, hang being ``relief · hang_fraction``. Derived.

    NaN where the relief or the string is missing.

    Parameters
    ----------
    neck : Neck
        The neck.
    fret : array_like
        Per instrument: fret number.
    relief_mm : array_like
        Per instrument: sagitta between the first and the last fret; negative for a back-bow [mm].
    hang_mm : array_like, optional
        Per instrument: measured hang at this fret, instead of the relief's parabola [mm].

    Returns
    -------
    numpy.ndarray
        Per string, 0 or below on a neck without back-bow [mm].

    Examples
    --------
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> crown_height_mm(neck, 7, relief_mm=0.2).round(2).tolist()
    [-0.19]
    """
    if hang_mm is None:
        hang = as_numbers("relief_mm", relief_mm) * hang_fraction(fret, end_fret=neck.end_fret)
    else:
        hang = as_numbers("hang_mm", hang_mm)
    return -hang[..., None] - neck.drop_mm(fret)


def nut_from_gap_mm(neck, gap_mm, *, relief_mm=0.0, held_fret=3, gap_fret=1):
    """Bottom of each nut slot from the gap at the first fret with the string held down at another.

    The string runs straight from the slot to the crown at `held_fret`; the gap over `gap_fret` fixes the slot:
    ``z_nut = (gap + z_1 − z_3·x_1/x_3)/(1 − x_1/x_3)``. Derived.

    Parameters
    ----------
    neck : Neck
        The neck.
    gap_mm : array_like
        Per string: gap between the string and the crown [mm].
    relief_mm : array_like
        Per instrument [mm].
    held_fret, gap_fret : array_like
        Per instrument: where the string is held, and where the gap is read, 0 < gap < held.

    Returns
    -------
    numpy.ndarray
        Per string: slot's bottom in the fret frame [mm]; NaN where the gap or the string is missing.

    Examples
    --------
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> nut_from_gap_mm(neck, [0.15], relief_mm=0.0).round(4).tolist()
    [0.2318]
    """
    share = _gap_share(gap_fret, held_fret)
    low = crown_height_mm(neck, gap_fret, relief_mm=relief_mm)
    held = crown_height_mm(neck, held_fret, relief_mm=relief_mm)
    return (as_numbers("gap_mm", gap_mm, strings=True) + low - held * share) / (1.0 - share)


def nut_gap_mm(neck, nut_mm, *, relief_mm=0.0, held_fret=3, gap_fret=1):
    """Gap at the first fret that a nut slot leaves: the inverse of `nut_from_gap_mm`.

    NaN where the slot, the relief or the string is missing.

    Parameters
    ----------
    neck : Neck
        The neck.
    nut_mm : array_like
        Per string: slot's bottom in the fret frame [mm].
    relief_mm : array_like
        Per instrument [mm].
    held_fret, gap_fret : array_like
        Per instrument: where the string is held, and where the gap is read, 0 < gap < held.

    Returns
    -------
    numpy.ndarray
        Per string: gap, below 0 where the string would lie on the crown [mm].

    Examples
    --------
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> nut_gap_mm(neck, [0.2318], relief_mm=0.0).round(3).tolist()
    [0.15]
    """
    share = _gap_share(gap_fret, held_fret)
    low = crown_height_mm(neck, gap_fret, relief_mm=relief_mm)
    held = crown_height_mm(neck, held_fret, relief_mm=relief_mm)
    return as_numbers("nut_mm", nut_mm, strings=True) * (1.0 - share) + held * share - low


def _gap_share(gap_fret, held_fret):
    """How far from the nut to the held fret the gap is read."""
    gap, held = fret_fraction(gap_fret), fret_fraction(held_fret)
    if ((gap <= 0) | (gap >= held)).any():
        raise GeometryError("gap_fret", gap_fret, "above 0 and below held_fret")
    return (gap / held)[..., None]


def _crest_x(neck, crest_x_mm):
    return neck.scale_mm if crest_x_mm is None else as_positive("crest_x_mm", crest_x_mm, strings=True)


def height_at_fret_mm(neck, fret, *, nut_mm, crest_mm, relief_mm=0.0, crest_x_mm=None, hang_mm=None):
    """Height of each string over a fret: the straight line from slot to crest, less the crown under it.

    ``h = z_nut + (z_crest − z_nut)·x/x_crest − z_crown``. Derived.

    Parameters
    ----------
    neck : Neck
        The neck.
    fret : array_like
        Per instrument: fret number.
    nut_mm, crest_mm : array_like
        Per string: bottom of the slot and crest, in the fret frame [mm].
    relief_mm : array_like
        Per instrument [mm].
    crest_x_mm : array_like, optional
        Per string: crest's distance from the nut; the scale if not given [mm].
    hang_mm : array_like, optional
        Per instrument: measured hang at this fret, instead of the relief's parabola [mm].

    Returns
    -------
    numpy.ndarray
        Per string [mm]; NaN where the string or a reading is missing.

    Examples
    --------
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> height_at_fret_mm(neck, 12, nut_mm=[0.4], crest_mm=[3.0]).round(6).tolist()
    [1.7]
    """
    nut, crest = as_numbers("nut_mm", nut_mm, strings=True), as_numbers("crest_mm", crest_mm, strings=True)
    way = neck.fret_x_mm(fret) / _crest_x(neck, crest_x_mm)
    return nut + (crest - nut) * way - crown_height_mm(neck, fret, relief_mm=relief_mm, hang_mm=hang_mm)


def all_heights_mm(neck, *, nut_mm, crest_mm, relief_mm=0.0, crest_x_mm=None):
    """Height of each string over every fret from the first to the last.

    Derived as `height_at_fret_mm`; NaN where the string or a reading is missing.

    Parameters
    ----------
    neck : Neck
        The neck of one number of frets: `end_fret` is a single number.
    nut_mm, crest_mm : array_like
        Per string: bottom of the slot and crest, in the fret frame [mm].
    relief_mm : array_like
        Per instrument [mm].
    crest_x_mm : array_like, optional
        Per string: crest's distance from the nut; the scale if not given [mm].

    Returns
    -------
    numpy.ndarray
        Shape (frets, ..., strings) [mm].

    Examples
    --------
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> all_heights_mm(neck, nut_mm=[0.4], crest_mm=[3.0])[[0, 11], 0].round(3).tolist()
    [0.546, 1.7]
    """
    if neck.end_fret.ndim:
        raise GeometryError("neck.end_fret", neck.end_fret.tolist(), "one number")
    frets = range(1, int(neck.end_fret) + 1)
    known = {"nut_mm": nut_mm, "crest_mm": crest_mm, "relief_mm": relief_mm, "crest_x_mm": crest_x_mm}
    return np.stack([height_at_fret_mm(neck, fret, **known) for fret in frets])


def crest_from_height_mm(neck, height_mm, *, fret=12, nut_mm, relief_mm=0.0, crest_x_mm=None):
    """Crest of each string from its height over a fret: the inverse of `height_at_fret_mm`.

    With measured heights it says where the crests are; with wanted heights, where they ought to be.

    Parameters
    ----------
    neck : Neck
        The neck.
    height_mm : array_like
        Per string: height over the fret [mm].
    fret : array_like
        Per instrument: fret number, above 0.
    nut_mm : array_like
        Per string: slot's bottom in the fret frame [mm].
    relief_mm : array_like
        Per instrument [mm].
    crest_x_mm : array_like, optional
        Per string: crest's distance from the nut; the scale if not given [mm].

    Returns
    -------
    numpy.ndarray
        Per string: crest in the fret frame [mm]; NaN where the height or the slot is missing.

    Examples
    --------
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> crest_from_height_mm(neck, [1.7], nut_mm=[0.4]).round(6).tolist()
    [3.0]
    """
    height, nut = as_numbers("height_mm", height_mm, strings=True), as_numbers("nut_mm", nut_mm, strings=True)
    as_positive("fret", fret)
    way = neck.fret_x_mm(fret) / _crest_x(neck, crest_x_mm)
    return nut + (height + crown_height_mm(neck, fret, relief_mm=relief_mm) - nut) / way


def relief_lift(neck, *, joint_fret, crest_x_mm=None):
    """How far slots and crests move in the fret frame per unit of relief that the rod adds.

    Model: the neck bends as one parabola from the nut to the body joint; the body, and the bridge on it, goes on
    along the parabola's tangent there. With ``z(t) = −4r·t(1 − t)`` between first and last fret, the nut moves by
    ``z(t_nut)`` and a crest by ``z(t_joint) + slope·(x_crest − x_joint)``, both in proportion to r. Derived only: no
    published measurement was found to hold it against, and a neck that bends elsewhere, or a body that gives, will
    differ. After a turn of the rod heights are read again, not believed.

    Parameters
    ----------
    neck : Neck
        The neck.
    joint_fret : array_like
        Per instrument: the fret at which the neck meets the body, above 1.
    crest_x_mm : array_like, optional
        Per string: crest's distance from the nut; the scale if not given [mm].

    Returns
    -------
    nut_per_relief, crest_per_relief : numpy.ndarray
        Per string: mm of movement per mm of added relief.

    Examples
    --------
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> nut, crest = relief_lift(neck, joint_fret=16)
    >>> nut.round(3).tolist(), crest.round(3).tolist()
    ([0.367], [0.976])
    """
    way, span, place = _joint(neck, joint_fret)
    beyond = _crest_x(neck, crest_x_mm) / neck.scale_mm - place
    crest = 4.0 * (2.0 * way - 1.0) * beyond / span - 4.0 * way * (1.0 - way)
    nut = -hang_fraction(0, end_fret=neck.end_fret)[..., None]
    return np.broadcast_to(nut, crest.shape), crest


def relief_tilt_rad_per_mm(neck, *, joint_fret):
    """How much less the fret plane falls towards the nut, against the top, per unit of relief that the rod adds.

    The slope of the parabola at the body joint, ``4·(2·t − 1)/(x_end − x_first)``; model as of `relief_lift`. Derived.

    Parameters
    ----------
    neck : Neck
        The neck.
    joint_fret : array_like
        Per instrument: the fret at which the neck meets the body, above 1.

    Returns
    -------
    numpy.ndarray
        Per string, because each measures along its own scale [rad/mm].

    Examples
    --------
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> relief_tilt_rad_per_mm(neck, joint_fret=16).round(5).tolist()
    [0.00624]
    """
    way, span, _ = _joint(neck, joint_fret)
    return 4.0 * (2.0 * way - 1.0) / (span * neck.scale_mm)


def _joint(neck, joint_fret):
    """The joint on the way from first to last fret, that way's length as a share of the scale, and the joint's own."""
    joint = as_numbers("joint_fret", joint_fret)
    if (joint <= FIRST_FRET).any():
        raise GeometryError("joint_fret", joint.tolist(), "above 1")
    first, place = fret_fraction(FIRST_FRET), fret_fraction(joint)
    span = fret_fraction(neck.end_fret) - first
    return ((place - first) / span)[..., None], span[..., None], place[..., None]
