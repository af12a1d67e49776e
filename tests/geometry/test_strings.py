"""Mass, tension, load and stiffness of strings; pint is the second opinion for the units."""

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.materials import MATERIALS
from geometry.strings import (
    axial_stiffness_n,
    bending_stiffness_n_m2,
    frequency_from_tension_hz,
    load_change,
    plain_mass_kg_per_m,
    string_mass_kg_per_m,
    tension_n,
    total_load_n,
    wound_mass_kg_per_m,
    wrap_wire_mm,
)

REGISTRY = pint.UnitRegistry()
WIRE = {"core_density_kg_per_m3": 7850.0, "wrap_density_kg_per_m3": 8900.0}


def test_mass_and_tension_in_anybodys_units():
    """pint: the same formulas with units attached."""
    q = REGISTRY.Quantity
    mass = (q(7.85, "g/cm^3") * np.pi * q(0.010, "inch") ** 2 / 4).to("kg/m").magnitude
    assert plain_mass_kg_per_m(0.254, density_kg_per_m3=7850) == pytest.approx(mass, rel=1e-12)
    tension = (q(mass, "kg/m") * (2 * q(25.5, "inch") * q(329.63, "Hz")) ** 2).to("lbf").magnitude
    ours = tension_n(mass, length_mm=647.7, frequency_hz=329.63)
    assert q(ours, "N").to("lbf").magnitude == pytest.approx(tension, rel=1e-12)
    bending = (q(200, "GPa") * np.pi * q(0.254, "mm") ** 4 / 64).to("N*m^2").magnitude
    assert bending_stiffness_n_m2(0.254, young_pa=200e9) == pytest.approx(bending, rel=1e-12)
    stretching = (q(200, "GPa") * np.pi * q(0.254, "mm") ** 2 / 4).to("N").magnitude
    assert axial_stiffness_n(0.254, young_pa=200e9) == pytest.approx(stretching, rel=1e-12)


def steel(diameter):
    return plain_mass_kg_per_m(diameter, density_kg_per_m3=7850)


@given(st.floats(0.2, 1.5), st.floats(0.05, 1.0))
def test_wound_mass_lies_between_core_and_solid(core, wrap):
    """Without the helix's lean the wrap fills π/4 of the annulus; the lean adds below 1/(2·π²), a turn being π·wrap."""
    wound = wound_mass_kg_per_m(core, wrap, **WIRE) - steel(core)
    annulus = 8900e-6 * np.pi / 4 * ((core + 2 * wrap) ** 2 - core**2)
    assert np.pi / 4 * annulus < wound < np.pi / 4 * annulus * (1 + 1 / (2 * np.pi**2)) < annulus


def test_wrap_that_vanishes_leaves_the_core():
    assert wound_mass_kg_per_m(0.4, 1e-9, **WIRE) == pytest.approx(steel(0.4), rel=1e-6)


def test_the_helix_is_as_long_as_its_integral():
    """Second opinion: the wire's length by numeric integration of the helix."""
    core, wrap = 0.46, 0.45
    turn = np.linspace(0.0, 2.0 * np.pi, 200_001)
    radius, rise = 0.5 * (core + wrap), wrap / (2.0 * np.pi)
    points = np.stack([radius * np.cos(turn), radius * np.sin(turn), rise * turn], axis=-1)
    length = np.sqrt((np.diff(points, axis=0) ** 2).sum(axis=-1)).sum() / wrap
    mass = steel(core) + length * plain_mass_kg_per_m(wrap, density_kg_per_m3=8900)
    assert wound_mass_kg_per_m(core, wrap, **WIRE) == pytest.approx(mass, rel=1e-9)


def test_a_set_mixes_plain_and_wound():
    mass = string_mass_kg_per_m([1.02, 0.254, np.nan], core_mm=[0.36, np.nan, np.nan], core_density_kg_per_m3=7850,
                                wrap_density_kg_per_m3=[8900, np.nan, np.nan])  # fmt: skip
    assert mass[0] == wound_mass_kg_per_m(0.36, 0.33, **WIRE)
    assert mass[1] == plain_mass_kg_per_m(0.254, density_kg_per_m3=7850)
    assert np.isnan(mass[2])


def test_a_core_as_thick_as_the_string_is_refused():
    with pytest.raises(GeometryError, match="below diameter_mm"):
        wrap_wire_mm(0.36, core_mm=0.36)


@given(st.floats(1e-4, 2e-2), st.floats(300, 900), st.floats(25, 400))
def test_tension_and_frequency_are_inverse(mass, length, frequency):
    tension = tension_n(mass, length_mm=length, frequency_hz=frequency)
    back = frequency_from_tension_hz(tension, mass_kg_per_m=mass, length_mm=length)
    assert back == pytest.approx(frequency, rel=1e-12)


def test_load_leaves_missing_strings_out():
    assert total_load_n([[60.0, np.nan], [np.nan, np.nan]]).tolist()[0] == 60.0
    assert np.isnan(total_load_n([np.nan, np.nan]))


def test_load_change_of_a_tuning_a_tone_down():
    """Down a whole tone every tension falls by the same share, 2^(−1/3): T goes with f²."""
    before = np.array([70.0, 75.0, 68.0])
    change = load_change(before, before * 2 ** (-1 / 3))
    assert change.total_after_n / change.total_before_n == pytest.approx(2 ** (-1 / 3))
    assert (change.change_n < 0).all()
    assert change.total_change_n == pytest.approx(change.change_n.sum())


def test_every_material_is_believable():
    for name, material in MATERIALS.items():
        assert 900 < material.density_kg_per_m3 < 9000, name
        assert 1e9 < material.young_pa < 2.2e11, name
    with pytest.raises(TypeError):
        MATERIALS["steel"] = None


@pytest.mark.parametrize("shape", [(), (6,), (4, 6), (2, 4, 6)])
def test_shapes(shape):
    assert np.shape(tension_n(np.full(shape, 1e-3), length_mm=628.0, frequency_hz=110.0)) == shape
