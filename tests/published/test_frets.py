"""Fret positions: one printed length, the rules of the trade, and the identities of equal temperament."""

import numpy as np
import pytest

from geometry.frets import fret_position_mm, speaking_length_mm
from geometry.pitch import cents_between

# Computed from the formula for a 650 mm scale, mm from the nut; a regression table, not a published one.
FROM_NUT = [
    36.4817, 70.9158, 103.4173, 134.0947, 163.0502, 190.3806, 216.1770, 240.5257, 263.5077, 285.1998, 305.6745, 325.0,
    343.2408, 360.4579, 376.7087, 392.0473, 406.5251, 420.1903, 433.0885, 445.2628, 456.7538, 467.5999, 477.8372, 487.5,
]  # fmt: skip


def test_saddle_to_first_fret():
    """Anderson & Beausoleil (2024), section on the string constant: "about 614 mm" on a 650 mm scale; read."""
    assert speaking_length_mm(1, scale_mm=650) == pytest.approx(614.0, abs=0.5)


def test_whole_table():
    assert fret_position_mm(np.arange(1, 25), scale_mm=650) == pytest.approx(FROM_NUT, abs=5.1e-5)


def test_constant_of_the_trade():
    """G. Byers' own summary of his article in American Lutherie 47 (1996): each step is the rest over 17.817; read."""
    rest = speaking_length_mm(np.arange(24), scale_mm=628)
    step = fret_position_mm(np.arange(1, 25), scale_mm=628) - fret_position_mm(np.arange(24), scale_mm=628)
    assert rest / step == pytest.approx(np.full(24, 17.817), abs=5e-4)


def test_rule_of_eighteen():
    """The old rule, a step of one eighteenth of the rest: date from memory; its error computed, 2.364 mm at fret 12."""
    by_rule = 650.0 * (1.0 - (17.0 / 18.0) ** 12)
    assert fret_position_mm(12, scale_mm=650) - by_rule == pytest.approx(2.364, abs=5e-4)
    assert cents_between(18.0, 17.0) == pytest.approx(98.9546, abs=1e-4)


@pytest.mark.parametrize("scale", [300.0, 628.65, 864.0])
def test_octaves_halve_the_string(scale):
    """Identities, exact: half the scale at fret 12, a quarter left at 24."""
    assert fret_position_mm([12, 24], scale_mm=scale).tolist() == [scale / 2, 0.75 * scale]


def test_the_twelfth_is_not_just():
    """Fret 19 misses two thirds of the scale by 0.038 %: 433.0885 against 433.3333 mm; computed."""
    miss = 1.0 - fret_position_mm(19, scale_mm=650) / (2.0 / 3.0 * 650)
    assert 650 * 2 / 3 * miss == pytest.approx(0.2448, abs=1e-4)
