"""Inharmonicity against its published forms and magnitudes."""

import numpy as np
import pytest
from scipy.optimize import brentq

from geometry.stiffness import (
    frequency_factor,
    inharmonicity,
    partial_hz,
    partial_stretch_cents,
    stiffness_epsilon,
)
from geometry.strings import bending_stiffness_n_m2, frequency_from_tension_hz, plain_mass_kg_per_m, tension_n

# One plain steel string of 0.254 mm under 72 N on 648 mm, modulus 200 GPa.
EPSILON = stiffness_epsilon(bending_stiffness_n_m2(0.254, young_pa=200e9), tension_n=72.0, length_mm=648.0)


def test_two_published_forms_agree():
    """B = π³·E·d⁴/(64·T·L²) (H. Fletcher, J. Acoust. Soc. Am. 36 (1964) 203; Fletcher & Rossing, section 2.18) and, as
    quoted on an acoustics mailing list after Rossing, 2·π³·r⁴·E/(8·T·L²)/2; computed value 1.33399e-5."""
    diameter, tension, length, young = 0.254e-3, 72.0, 0.648, 200e9
    fletcher = np.pi**3 * young * diameter**4 / (64 * tension * length**2)
    rossing = 2 * np.pi**3 * (diameter / 2) ** 4 * young / (8 * tension * length**2)
    assert inharmonicity(EPSILON) == pytest.approx(fletcher, rel=1e-12)
    assert inharmonicity(EPSILON) == pytest.approx(rossing, rel=1e-12)
    assert inharmonicity(EPSILON) == pytest.approx(1.33399e-5, rel=1e-5)


@pytest.mark.parametrize("partial", [1, 2, 5, 12])
def test_three_published_end_conditions(partial):
    """Both ends clamped: Morse (1936), quoted in Anderson & Beausoleil (2024); one clamped: the appendix there, read;
    both pinned: Fletcher (1964), to second order."""
    order = partial * partial
    morse = 1 + 2 * EPSILON + 4 * (1 + np.pi**2 * order / 8) * EPSILON**2
    mixed = 1 + EPSILON + (1 + order * np.pi**2 / 2) * EPSILON**2
    assert frequency_factor(EPSILON, clamped_ends=2, partial=partial) == pytest.approx(morse, rel=1e-14)
    assert frequency_factor(EPSILON, clamped_ends=1, partial=partial) == pytest.approx(mixed, rel=1e-14)
    pinned = partial_hz(partial, fundamental_hz=1 / partial, inharmonicity=inharmonicity(EPSILON))
    fourth_order = (inharmonicity(EPSILON) * order) ** 2 / 8
    assert frequency_factor(EPSILON, clamped_ends=0, partial=partial) == pytest.approx(pinned, abs=1.01 * fourth_order)


def test_stretch_of_the_tenth_partial():
    """B = 1.24e-4: 10.560 cents; computed."""
    assert partial_stretch_cents(10, inharmonicity=1.24e-4) == pytest.approx(10.560, abs=5e-4)


def test_bass_string_of_a_guitar_family():
    """J. A. Kemp, SN Applied Sciences 2 (2020) 636, abstract, read: a low B0 bass string stopped at fret 12 is around
    100 cents sharp at its tenth partial, stopped at fret 21 around 100 cents at its sixth. B goes as 1/L², so from the
    first statement follows the second."""
    at_12 = brentq(lambda one: partial_stretch_cents(10, inharmonicity=one) - 100.0, 1e-6, 1e-2)
    at_21 = at_12 * 2 ** (2 * 9 / 12)
    assert partial_stretch_cents(6, inharmonicity=at_21) == pytest.approx(100.0, abs=10.0)


# H. Järveläinen and M. Karjalainen, "Importance of inharmonicity in the acoustic guitar", measured on frets 0 to 17: B
# as a multiple of the audible threshold; read. Threshold of 2001, ln B = 2.57·ln f − 26.5: from memory, so these checks
# are of the order of magnitude only.
AUDIBLE = {
    "first": (329.63, 0.254, (2.9, 4.6)),
    "third, plain": (196.00, 0.432, (34.5, 58.3)),
}


@pytest.mark.parametrize("name", AUDIBLE)
def test_measured_inharmonicity_of_a_steel_guitar(name):
    """B of a common plain steel string lies within a factor of three of the measured range."""
    frequency, diameter, multiples = AUDIBLE[name]
    threshold = np.exp(2.57 * np.log(frequency) - 26.5)
    mass = plain_mass_kg_per_m(diameter, density_kg_per_m3=7850)
    tension = tension_n(mass, length_mm=648, frequency_hz=frequency)
    stiffness = bending_stiffness_n_m2(diameter, young_pa=200e9)
    found = inharmonicity(stiffness_epsilon(stiffness, tension_n=tension, length_mm=648))
    assert multiples[0] * threshold / 3 < found < multiples[1] * threshold * 3
    assert frequency_from_tension_hz(tension, mass_kg_per_m=mass, length_mm=648) == pytest.approx(frequency)
