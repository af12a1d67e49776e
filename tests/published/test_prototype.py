"""The figures that Anderson & Beausoleil (2024) give for their prototype string and guitar: see `paper`.

Read, and recomputed from the formulas; each tolerance is half of the last printed digit or wider where the paper says
'about'.
"""

from dataclasses import replace

import numpy as np
import pytest

from geometry.fretting import Fretting, elastic_from_sensitivity
from geometry.prediction import fretted_cents
from geometry.setback_formula import closed_form_weights
from geometry.stiffness import frequency_factor, inharmonicity, stiffness_epsilon
from geometry.strings import bending_stiffness_n_m2
from tests.published.paper import GUITAR, PROTOTYPE, SETS

AT_THE_FRET = Fretting(press_mm=0.0)
TEN_BEHIND = Fretting(press_mm=10.0)


def test_epsilon_of_the_prototype():
    assert PROTOTYPE.bend_length_mm / 650 == pytest.approx(0.00236, abs=5e-6)
    assert elastic_from_sensitivity(25.0, radius_mm=0.43).bend_length_mm == pytest.approx(PROTOTYPE.bend_length_mm)


def test_length_part_at_fret_12():
    """−0.17 cents without set-backs."""
    found = fretted_cents(PROTOTYPE, GUITAR, fretting=AT_THE_FRET, frets=[12])
    assert found.length_cents[0, 0] == pytest.approx(-0.17, abs=0.005)


def test_strain_and_thinning_at_fret_1():
    """About 47e-6, and about 0.04 cents, with set-backs of 1.9 and −0.37 mm, pressed 10 mm behind the fret."""
    guitar = replace(GUITAR, saddle_back_mm=1.9, nut_back_mm=-0.37)
    found = fretted_cents(PROTOTYPE, guitar, fretting=TEN_BEHIND, frets=[1])
    assert found.strain[0, 0] == pytest.approx(47e-6, abs=0.5e-6)
    assert found.density_cents[0, 0] == pytest.approx(0.04, abs=0.005)


def test_second_order_of_stiffness_at_fret_12():
    """About 0.2 cents: what the square of ε adds between the open string and half of it, tension held."""
    epsilon = PROTOTYPE.bend_length_mm[0] / 650
    both = np.log(frequency_factor(2 * epsilon) / frequency_factor(epsilon))
    assert 1200 / np.log(2) * (both - epsilon) == pytest.approx(0.2, abs=0.05)


def test_simple_setbacks():
    """1.54 mm at the saddle, which is ε·X₀; at the nut −κ·X₀·Q̄/2: −0.51 mm, and −0.57 mm pressed 10 mm behind."""
    assert PROTOTYPE.bend_length_mm == pytest.approx(1.54, abs=0.005)
    for fretting, printed in ((AT_THE_FRET, -0.51), (TEN_BEHIND, -0.57)):
        strain = fretted_cents(PROTOTYPE, GUITAR, fretting=fretting).strain.mean()
        assert -51 * 650 * strain / 2 == pytest.approx(printed, abs=0.005)


def test_mean_strain_is_a_polynomial_of_the_heights():
    """24·X₀²·Q̄ = 77.9·b² + 35.6·b·c + 5.82·c² to lowest order; found from three guitars with low strings."""
    heights = np.array([[0.10, 0.00], [0.00, 0.10], [0.10, 0.10]])
    guitar = replace(GUITAR, nut_mm=heights[:, :1], crest_mm=heights.sum(axis=1, keepdims=True))
    strain = fretted_cents(PROTOTYPE, guitar, fretting=AT_THE_FRET).strain.sum(axis=-2)[:, 0] / 12
    powers = np.stack([heights[:, 0] ** 2, heights.prod(axis=1), heights[:, 1] ** 2], axis=-1)
    found = np.linalg.solve(powers, 24 * 650**2 * strain)
    assert found == pytest.approx([77.9, 35.6, 5.82], abs=0.06)


def test_coefficients_of_the_closed_form():
    """−9.848 and 5.633 for frets 1 to 12."""
    slope, constant = closed_form_weights(12)["stretch"]
    assert slope == pytest.approx(-9.848, abs=5e-4)
    assert constant / 2 == pytest.approx(5.633, abs=5e-4)
    bend_slope, bend_constant = closed_form_weights(12)["bend"]
    # The paper rounds these to 3/2 and 1.
    assert 0.5 * bend_slope == pytest.approx(1.5, abs=0.1)
    assert -0.5 * (1 + np.pi**2) * bend_constant == pytest.approx(1.0, abs=0.4)


def test_order_of_magnitude_of_epsilon():
    """Nylon of 5 GPa and 0.5 mm radius under 60 N on 650 mm: ε about 3e-3, its square's part about 2 % of the first."""
    stiffness = bending_stiffness_n_m2(1.0, young_pa=5e9)
    epsilon = stiffness_epsilon(stiffness, tension_n=60, length_mm=650)
    assert epsilon == pytest.approx(3e-3, abs=0.5e-3)
    assert (1 + np.pi**2 / 2) * epsilon == pytest.approx(0.02, abs=0.005)
    # Naming: the paper's B is ε, Fletcher's B is π²·ε².
    assert inharmonicity(epsilon) == pytest.approx(np.pi**2 * epsilon**2, rel=1e-12)


def test_a_whole_tone_by_three_millimetres():
    """Section on the string constant: a whole step by 3 mm at 614 mm is Δf/f = 0.116, R about 24 and κ about 49."""
    change = 2 ** (2 / 12) - 1
    assert np.log(1 + change) == pytest.approx(0.116, abs=0.0005)
    assert np.log(1 + change) / (3 / 614) == pytest.approx(24, abs=0.5)
    assert elastic_from_sensitivity(24.0, radius_mm=0.4).stretch_ratio == pytest.approx(49.0)


@pytest.mark.parametrize("name", SETS)
def test_tables_of_properties(name):
    """κ = 2·R + 1 within 0.15 (R is printed rounded), ε within 1e-5, the modulus κ·T/(π·r²) within 0.04 GPa."""
    strings = SETS[name]
    elastic = strings.elastic()
    assert elastic.stretch_ratio == pytest.approx(strings.stretch_ratio, abs=0.15)
    assert elastic.bend_length_mm / 650 == pytest.approx(strings.epsilon, abs=1e-5)
    modulus = strings.stretch_ratio * strings.tension_n / (np.pi * strings.radius_mm**2) * 1e-3
    assert modulus == pytest.approx(strings.young_gpa, abs=0.05)


# Computed, a regression of the exact sum on the prototype without set-backs: not published.
@pytest.mark.parametrize(
    ("fretting", "cents"),
    [(AT_THE_FRET, [1.7272, 1.8181, 2.4848, 3.3178, 5.9792]), (TEN_BEHIND, [2.3272, 1.9533, 2.5835, 3.4120, 6.1001])],
)
def test_exact_sum(fretting, cents):
    found = fretted_cents(PROTOTYPE, GUITAR, fretting=fretting, frets=[1, 3, 5, 7, 12])
    assert found.cents[:, 0] == pytest.approx(cents, abs=5e-5)


def test_exact_parts_at_fret_12():
    """Computed: length, thinning, tension, stiffness."""
    found = fretted_cents(PROTOTYPE, GUITAR, fretting=AT_THE_FRET, frets=[12])
    parts = [found.length_cents, found.density_cents, found.tension_cents, found.stiffness_cents]
    assert np.ravel(parts) == pytest.approx([-0.1721, 0.0369, 1.8786, 4.2358], abs=5.1e-5)


def test_relief_as_a_tilted_board():
    """Section on compensation: crowns that fall away in proportion to their distance from the nut act on the strain
    like a climb greater by twice what they open at fret 12, while the open string's length keeps the true one."""
    opened, frets = 0.3, np.arange(1.0, 13.0)
    fall = 2 * opened * (1 - 2 ** (-frets / 12))
    tilted = fretted_cents(PROTOTYPE, replace(GUITAR, crown_mm=-fall[:, None]), fretting=AT_THE_FRET)
    gamma = 2 ** (frets / 12)
    strain = (gamma * 1.0 + (gamma - 1) * (4.0 + 2 * opened)) ** 2 / (2 * (gamma - 1) * 650**2)
    assert tilted.strain[:, 0] == pytest.approx(strain, rel=3e-4)
