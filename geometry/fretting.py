"""What goes into a prediction of fretted notes: the strings' elasticity, where everything is, and how one presses."""

from dataclasses import dataclass, fields

import numpy as np

from geometry.errors import GeometryError, as_not_negative, as_numbers, as_positive, as_within

__all__ = ["Elastic", "Fretting", "Placement", "elastic_from_sensitivity", "elastic_from_stiffness"]


class _Checked:
    """Turns every field into a checked array of floats when it is made; one number stands for all strings."""

    def __post_init__(self):
        for name in (one.name for one in fields(self)):
            value = self._check(name, getattr(self, name))
            object.__setattr__(self, name, value[None] if not value.ndim else value)


@dataclass(frozen=True)
class Elastic(_Checked):
    """How strings answer to being stretched and bent; all per string.

    Attributes
    ----------
    stretch_ratio : numpy.ndarray
        ``κ = E·A/T``: relative rise of tension per relative lengthening, above 0.
    bend_length_mm : numpy.ndarray
        ``λ = sqrt(E·I/T)``: how much a clamped end shortens the string, 0 or more [mm].

    Examples
    --------
    >>> Elastic(stretch_ratio=51.0, bend_length_mm=[1.54, 1.20]).stretch_ratio
    array([51.])
    """

    stretch_ratio: np.ndarray
    bend_length_mm: np.ndarray

    @staticmethod
    def _check(name, value):
        return as_positive(name, value) if name == "stretch_ratio" else as_not_negative(name, value)


@dataclass(frozen=True)
class Placement(_Checked):
    """Where nut, frets and crests are, in the fret frame; all per string.

    Attributes
    ----------
    scale_mm : numpy.ndarray
        Scale along the string, by which the frets are placed [mm].
    nut_mm, crest_mm : numpy.ndarray
        Bottom of the slot and crest above the plane of the frets [mm].
    saddle_back_mm, nut_back_mm : numpy.ndarray
        How far crest and nut stand back from where the scale puts them: longer string positive at both ends [mm].
    crown_mm : numpy.ndarray
        Shape (..., frets, strings), or one number: crowns above the plane of the frets:
        `geometry.crowns.crown_map_mm` [mm].

    Examples
    --------
    >>> Placement(scale_mm=650, nut_mm=1.0, crest_mm=5.0, saddle_back_mm=[1.48, 2.46]).saddle_back_mm.shape
    (2,)
    """

    scale_mm: np.ndarray
    nut_mm: np.ndarray
    crest_mm: np.ndarray
    saddle_back_mm: np.ndarray = 0.0
    nut_back_mm: np.ndarray = 0.0
    crown_mm: np.ndarray = 0.0

    @staticmethod
    def _check(name, value):
        return as_positive(name, value) if name == "scale_mm" else as_numbers(name, value)


@dataclass(frozen=True)
class Fretting(_Checked):
    """What is uncertain about fretting and about the string's ends; all per string, all with a default.

    Attributes
    ----------
    press_mm : numpy.ndarray
        Where the finger presses, behind the fret; never further than the fret before [mm]. 10 agrees with the paper's
        measured guitar; the paper's tables of set-backs take 0.
    press_depth_mm : numpy.ndarray
        How much further down than the straight line over the crown the finger pushes the string there; at most
        `press_mm` [mm].
    saddle_clamp, nut_clamp, fret_clamp : numpy.ndarray
        0 for a pinned end to 1 for a clamped one: `geometry.stiffness`. The paper clamps the saddle and pins the rest.
    beyond_nut_mm, beyond_saddle_mm : numpy.ndarray
        String past nut and saddle that slides over them and so takes up its part of the stretch; 0 where it sticks, as
        in the paper [mm].

    Examples
    --------
    >>> float(Fretting().press_mm[0]), float(Fretting(saddle_clamp=0.5).saddle_clamp[0])
    (10.0, 0.5)
    """

    press_mm: np.ndarray = 10.0
    press_depth_mm: np.ndarray = 0.0
    saddle_clamp: np.ndarray = 1.0
    nut_clamp: np.ndarray = 0.0
    fret_clamp: np.ndarray = 0.0
    beyond_nut_mm: np.ndarray = 0.0
    beyond_saddle_mm: np.ndarray = 0.0

    @staticmethod
    def _check(name, value):
        return as_within(name, value, 0.0, 1.0) if name.endswith("_clamp") else as_not_negative(name, value)

    def __post_init__(self):
        super().__post_init__()
        if (self.press_depth_mm > self.press_mm).any():
            raise GeometryError("press_depth_mm", self.press_depth_mm, "at most press_mm")


def elastic_from_stiffness(tension_n, *, axial_n, bending_n_m2):
    """Answer to stretching and bending from tension and stiffness: ``κ = E·A/T``, ``λ = sqrt(E·I/T)``.

    Source: definitions; for a wound string both stiffnesses are the core's (assumption).

    Parameters
    ----------
    tension_n : array_like
        Per string: tension, above 0 [N].
    axial_n, bending_n_m2 : array_like
        Per string: `geometry.strings.axial_stiffness_n` [N] and `geometry.strings.bending_stiffness_n_m2` [N·m²].

    Returns
    -------
    Elastic
        Per string; NaN where an argument is NaN.

    Examples
    --------
    >>> steel = elastic_from_stiffness([72.0], axial_n=10134.0, bending_n_m2=4.0863e-5)
    >>> steel.stretch_ratio.round(2).tolist(), steel.bend_length_mm.round(4).tolist()
    ([140.75], [0.7534])
    """
    tension = as_positive("tension_n", tension_n)
    bending = as_not_negative("bending_n_m2", bending_n_m2)
    return Elastic(as_positive("axial_n", axial_n) / tension, 1e3 * np.sqrt(bending / tension))


def elastic_from_sensitivity(sensitivity, *, radius_mm):
    """Answer to stretching and bending from a measured ``R = d ln f/d ln L`` of the open string.

    ``κ = 2·R + 1``, ``λ = sqrt(κ)·r/2``: the string taken as one solid round rod. Source: Anderson & Beausoleil (2024),
    who measure R by drawing the string along and reading its pitch.

    Parameters
    ----------
    sensitivity : array_like
        Per string: R, above 0.
    radius_mm : array_like
        Per string: radius over all, above 0 [mm].

    Returns
    -------
    Elastic
        Per string; NaN where an argument is NaN.

    Examples
    --------
    >>> nylon = elastic_from_sensitivity([25.0], radius_mm=0.43)
    >>> nylon.stretch_ratio.tolist(), nylon.bend_length_mm.round(4).tolist()
    ([51.0], [1.5354])
    """
    ratio = 2.0 * as_positive("sensitivity", sensitivity) + 1.0
    return Elastic(ratio, 0.5 * np.sqrt(ratio) * as_positive("radius_mm", radius_mm))
