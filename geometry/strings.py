"""Strings: mass, tension, load, and stiffness in bending and in stretching."""

from dataclasses import dataclass

import numpy as np

from geometry.errors import GeometryError, as_numbers, as_positive

__all__ = [
    "LoadChange", "axial_stiffness_n", "bending_stiffness_n_m2", "frequency_from_tension_hz", "load_change",
    "plain_mass_kg_per_m", "string_mass_kg_per_m", "tension_n", "total_load_n", "wound_mass_kg_per_m",
    "wrap_wire_mm",
]  # fmt: skip


def plain_mass_kg_per_m(diameter_mm, *, density_kg_per_m3):
    """Mass per length of a solid round string, ``ρ·π·d²/4``. Elementwise.

    Source: definition of density.

    Parameters
    ----------
    diameter_mm : array_like
        Diameter, above 0 [mm].
    density_kg_per_m3 : array_like
        Density, above 0 [kg/m³].

    Returns
    -------
    numpy.ndarray or float
        Mass per length [kg/m]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(plain_mass_kg_per_m(0.254, density_kg_per_m3=7850).round(8))
    0.00039777
    """
    diameter_m = as_positive("diameter_mm", diameter_mm) * 1e-3
    return as_positive("density_kg_per_m3", density_kg_per_m3) * (np.pi / 4.0) * diameter_m * diameter_m


def wrap_wire_mm(diameter_mm, *, core_mm):
    """Diameter of the wrap wire of a string with one layer: ``(D − d_c)/2``. Elementwise.

    Parameters
    ----------
    diameter_mm : array_like
        Diameter over the wrap, above 0 [mm].
    core_mm : array_like
        Diameter of the core, above 0 and below `diameter_mm` [mm].

    Returns
    -------
    numpy.ndarray or float
        Wire diameter, above 0 [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(wrap_wire_mm(1.02, core_mm=0.36).round(9))
    0.33
    """
    whole, core = as_positive("diameter_mm", diameter_mm), as_positive("core_mm", core_mm)
    wire = 0.5 * (whole - core)
    if (wire <= 0).any():
        raise GeometryError("core_mm", core.tolist(), "below diameter_mm")
    return wire


def wound_mass_kg_per_m(core_mm, wrap_mm, *, core_density_kg_per_m3, wrap_density_kg_per_m3):
    """Mass per length of a round core with one layer of round wire wound on turn against turn. Elementwise.

    ``ρc·π·dc²/4 + ρw·(π·dw²/4)·sqrt(1 + (π·(dc + dw)/dw)²)``. Derived: the wire is a helix of pitch dw at the mean
    diameter dc + dw. Wire flattened on the core, hexagonal cores and gaps change it by a few per cent.

    Parameters
    ----------
    core_mm, wrap_mm : array_like
        Diameter of the core and of the wrap wire, above 0 [mm].
    core_density_kg_per_m3, wrap_density_kg_per_m3 : array_like
        Densities, above 0 [kg/m³].

    Returns
    -------
    numpy.ndarray or float
        Mass per length [kg/m]; NaN where an argument is NaN.

    Examples
    --------
    >>> mass = wound_mass_kg_per_m(0.36, 0.33, core_density_kg_per_m3=7850, wrap_density_kg_per_m3=8900)
    >>> float(mass.round(9))
    0.005856905
    """
    core, wrap = as_positive("core_mm", core_mm), as_positive("wrap_mm", wrap_mm)
    wire_per_length = np.hypot(1.0, np.pi * (core + wrap) / wrap)
    wire = plain_mass_kg_per_m(wrap, density_kg_per_m3=as_positive("wrap_density_kg_per_m3", wrap_density_kg_per_m3))
    heart = plain_mass_kg_per_m(core, density_kg_per_m3=as_positive("core_density_kg_per_m3", core_density_kg_per_m3))
    return heart + wire * wire_per_length


def string_mass_kg_per_m(diameter_mm, *, core_mm, core_density_kg_per_m3, wrap_density_kg_per_m3):
    """Mass per length of a set with plain and wound strings in it. Elementwise.

    Derived: `plain_mass_kg_per_m` or `wound_mass_kg_per_m`, string by string.

    Parameters
    ----------
    diameter_mm : array_like
        Diameter over all, above 0 [mm].
    core_mm : array_like
        Diameter of the core; NaN for a plain string [mm].
    core_density_kg_per_m3 : array_like
        Density of the core, or of the whole plain string [kg/m³].
    wrap_density_kg_per_m3 : array_like
        Density of the wrap; unused, and may be NaN, for a plain string [kg/m³].

    Returns
    -------
    numpy.ndarray or float
        Mass per length [kg/m]; NaN where the diameter is NaN.

    Examples
    --------
    >>> string_mass_kg_per_m([1.02, 0.254], core_mm=[0.36, np.nan], core_density_kg_per_m3=7850,
    ...                      wrap_density_kg_per_m3=[8900, np.nan]).round(6).tolist()
    [0.005857, 0.000398]
    """
    whole, core = as_positive("diameter_mm", diameter_mm), as_positive("core_mm", core_mm)
    plain = plain_mass_kg_per_m(whole, density_kg_per_m3=core_density_kg_per_m3)
    wound = wound_mass_kg_per_m(
        core, wrap_wire_mm(whole, core_mm=core),
        core_density_kg_per_m3=core_density_kg_per_m3, wrap_density_kg_per_m3=wrap_density_kg_per_m3,
    )  # fmt: skip
    return np.where(np.isnan(core), plain, wound)[()]


def tension_n(mass_kg_per_m, *, length_mm, frequency_hz):
    """Tension that gives a string its pitch, ``μ·(2·L·f)²``. Elementwise.

    Source: Mersenne's and Taylor's law of the ideal string. Stiffness is left out: it changes the tension by less
    than a thousandth at the strings used here.

    Parameters
    ----------
    mass_kg_per_m : array_like
        Mass per length, above 0 [kg/m].
    length_mm : array_like
        Speaking length of the open string, above 0 [mm].
    frequency_hz : array_like
        Open string's frequency, above 0 [Hz].

    Returns
    -------
    numpy.ndarray or float
        Tension [N]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(tension_n(5.470e-3, length_mm=650, frequency_hz=82.41).round(1))
    62.8
    """
    speed = 2e-3 * as_positive("length_mm", length_mm) * as_positive("frequency_hz", frequency_hz)
    return as_positive("mass_kg_per_m", mass_kg_per_m) * speed * speed


def frequency_from_tension_hz(tension_n, *, mass_kg_per_m, length_mm):
    """Frequency of an ideal string, ``sqrt(T/μ)/(2·L)``: the inverse of `tension_n`. Elementwise.

    Parameters
    ----------
    tension_n : array_like
        Tension, above 0 [N].
    mass_kg_per_m : array_like
        Mass per length, above 0 [kg/m].
    length_mm : array_like
        Speaking length, above 0 [mm].

    Returns
    -------
    numpy.ndarray or float
        Frequency [Hz]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(frequency_from_tension_hz(160.0, mass_kg_per_m=7.20e-3, length_mm=2000).round(1))
    37.3
    """
    tension, mass = as_positive("tension_n", tension_n), as_positive("mass_kg_per_m", mass_kg_per_m)
    return np.sqrt(tension / mass) / (2e-3 * as_positive("length_mm", length_mm))


def total_load_n(tension_n):
    """Load of all strings on the neck: the sum over the strings that are there.

    Source: statics, all pull alike along the neck.

    Parameters
    ----------
    tension_n : array_like
        Per string, shape (..., strings), 0 or more [N]; NaN where missing.

    Returns
    -------
    numpy.ndarray or float
        Per instrument [N]; NaN only where every string is missing.

    Examples
    --------
    >>> float(total_load_n([60.0, np.nan, 70.0]))
    130.0
    """
    tension = as_numbers("tension_n", tension_n, strings=True)
    missing = np.isnan(tension)
    total = np.add.reduce(np.where(missing, 0.0, tension), axis=-1)
    return np.where(np.logical_and.reduce(missing, axis=-1), np.nan, total)[()]


def axial_stiffness_n(core_mm, *, young_pa):
    """Stretching stiffness ``E·A`` of a round wire. Elementwise.

    For a wound string give the core: the wrap is taken to carry no tension (assumption; common in the literature on
    strings). Source: definition of Young's modulus.

    Parameters
    ----------
    core_mm : array_like
        Diameter of the plain string or of the core, above 0 [mm].
    young_pa : array_like
        Young's modulus, above 0 [Pa].

    Returns
    -------
    numpy.ndarray or float
        Force per unit of strain [N]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(axial_stiffness_n(1.0, young_pa=11e10).round(0))
    86394.0
    """
    radius_m = 0.5e-3 * as_positive("core_mm", core_mm)
    return as_positive("young_pa", young_pa) * np.pi * radius_m**2


def bending_stiffness_n_m2(core_mm, *, young_pa):
    """Bending stiffness ``E·I``, ``I = π·d⁴/64``, of a round wire. Elementwise.

    For a wound string give the core: the wrap's turns are taken to slide on each other (assumption).

    Parameters
    ----------
    core_mm : array_like
        Diameter of the plain string or of the core, above 0 [mm].
    young_pa : array_like
        Young's modulus, above 0 [Pa].

    Returns
    -------
    numpy.ndarray or float
        Stiffness [N·m²]; NaN where an argument is NaN.

    Examples
    --------
    >>> f"{bending_stiffness_n_m2(0.254, young_pa=200e9):.4e}"
    '4.0863e-05'
    """
    radius_m = 0.5e-3 * as_positive("core_mm", core_mm)
    return as_positive("young_pa", young_pa) * (np.pi / 4.0) * radius_m**4


@dataclass(frozen=True)
class LoadChange:
    """What another set, tuning or scale does to the load; see `load_change`.

    Attributes
    ----------
    change_n : numpy.ndarray
        Per string: after less before [N]; NaN unless the string is there both times.
    total_before_n, total_after_n, total_change_n : numpy.ndarray
        Per instrument [N].
    """

    change_n: np.ndarray
    total_before_n: np.ndarray
    total_after_n: np.ndarray
    total_change_n: np.ndarray


def load_change(before_n, after_n):
    """Change of load when a set, a tuning or a scale is changed.

    Source: the string law twice, see `tension_n`.

    Parameters
    ----------
    before_n, after_n : array_like
        Per string, shape (..., strings): tensions [N]; NaN where missing.

    Returns
    -------
    LoadChange
        Per string and in sum.

    Examples
    --------
    >>> change = load_change([60.0, 70.0], [66.0, 78.0])
    >>> change.change_n.tolist(), float(change.total_change_n)
    ([6.0, 8.0], 14.0)
    """
    before, after = as_numbers("before_n", before_n), as_numbers("after_n", after_n)
    total_before, total_after = total_load_n(before), total_load_n(after)
    return LoadChange(after - before, total_before, total_after, total_after - total_before)
