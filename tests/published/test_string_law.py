"""Tension, speed, mass and frequency of strings against worked examples and a paper's tables."""

import numpy as np
import pytest

from geometry.pitch import frequency_hz, midi_from_name
from geometry.strings import axial_stiffness_n, frequency_from_tension_hz, plain_mass_kg_per_m, tension_n
from tests.published.paper import SETS

# University Physics (OpenStax 2016), worked examples and printed answers; read. Each tolerance is half of the last
# printed digit, or what the book's own rounding on the way makes of it.
SPEEDS = [
    ("m58370, high E", 3.09e-4, 56.40, 427.23, 0.01),
    ("m58370, mass of 20 kg hung on it", 0.0060, 20 * 9.8, 180.0, 1.0),
    ("m58370, 3.00 m of 5.00 g", 5.00e-3 / 3.00, 500.00, 547.723, 0.001),
    ("m58373, mass of 2.00 kg hung on it", 0.006, 2.00 * 9.8, 57.15, 0.01),
    ("m58373, string of a vibrator", 0.0062, 20.00, 56.8, 0.05),
    ("m58378, nylon guitar string", 7.20e-3, 160.00, 149.07, 0.01),
    ("m58370, exercise on E4", 0.012, 1000.0, 288.68, 0.01),
]


@pytest.mark.parametrize(("where", "mass", "tension", "printed", "tolerance"), SPEEDS, ids=[row[0] for row in SPEEDS])
def test_speed_on_a_string(where, mass, tension, printed, tolerance):
    """The fundamental of a string of any length ℓ is v/(2·ℓ): taken at 1 m."""
    speed = 2.0 * frequency_from_tension_hz(tension, mass_kg_per_m=mass, length_mm=1000.0)
    assert speed == pytest.approx(printed, abs=tolerance)


def test_low_e_at_the_same_speed():
    """University Physics m58370: 5.78e-3 kg/m at 427.23 m/s needs 1055.00 N; read."""
    assert tension_n(5.78e-3, length_mm=500, frequency_hz=427.23) == pytest.approx(1055.00, abs=0.05)


def test_standing_waves():
    """University Physics m58373, worked example: 14.29, 28.58, 42.87 Hz on 2.00 m; read."""
    first = frequency_from_tension_hz(2.00 * 9.8, mass_kg_per_m=0.006, length_mm=2000)
    assert first * np.array([1, 2, 3]) == pytest.approx([14.29, 28.58, 42.87], abs=0.01)


def test_tension_from_the_sixth_harmonic():
    """University Physics m58379: 0.0065 kg/m, 1.50 m, sixth harmonic at 2.00 kHz: 6500 N; read."""
    assert tension_n(0.0065, length_mm=1500, frequency_hz=2000.0 / 6) == pytest.approx(6500.0, rel=1e-12)


def test_nylon_string_of_two_metres():
    """University Physics m58378: fundamental 37.3 Hz; read."""
    assert frequency_from_tension_hz(160, mass_kg_per_m=7.20e-3, length_mm=2000) == pytest.approx(37.3, abs=0.05)


def test_double_mass_slows_by_root_two():
    """University Physics m58370: ratio 0.707; read."""
    one, two = (frequency_from_tension_hz(60.0, mass_kg_per_m=mass, length_mm=650) for mass in (5e-3, 1e-2))
    assert two / one == pytest.approx(0.707, abs=5e-4)


def test_copper_wire():
    """University Physics m58370: density 8920 kg/m³, radius 1.20 mm: 0.040 kg/m, 15.75 m/s under 10.00 N; read."""
    mass = plain_mass_kg_per_m(2.40, density_kg_per_m3=8920)
    assert mass == pytest.approx(0.040, abs=5e-4)
    assert 2 * frequency_from_tension_hz(10.0, mass_kg_per_m=mass, length_mm=1000) == pytest.approx(15.75, abs=0.02)


@pytest.mark.parametrize("name", SETS)
def test_tensions_of_string_sets(name):
    """Anderson & Beausoleil (2024), tables of specifications: tension on 650 mm, within 0.15 N; read."""
    strings = SETS[name]
    pitch = frequency_hz([midi_from_name(one) for one in strings.note])
    found = tension_n(strings.mass_g_per_m * 1e-3, length_mm=650, frequency_hz=pitch)
    assert found == pytest.approx(strings.tension_n, abs=0.15)


# Elastic stretch ΔL = F·L/(A·Y); read, answers as printed.
def test_copper_wire_stretched_by_three_millimetres():
    """University Physics m58342: 1.0 m, 1.0 mm thick, 11e10 Pa: 259.0 N."""
    assert axial_stiffness_n(1.0, young_pa=11e10) * 3.0e-3 / 1.0 == pytest.approx(259.0, abs=0.3)


def test_nylon_rope_of_a_climber():
    """College Physics m42081: 35.0 m of 0.800 cm, 65.0 kg, 5e9 Pa: 9 cm."""
    assert 65.0 * 9.80 * 35.0 / axial_stiffness_n(8.00, young_pa=5e9) == pytest.approx(0.09, abs=0.005)


def test_cable_of_a_gondola():
    """College Physics m42081: 3020 m of 5.6 cm, 3.0e6 N, 210e9 Pa: 18 m."""
    assert 3.0e6 * 3020 / axial_stiffness_n(56.0, young_pa=210e9) == pytest.approx(18.0, abs=0.5)
