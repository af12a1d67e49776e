"""Force of a bent string on its support, and the capstan, against printed answers."""

import numpy as np
import pytest

from geometry.force import capstan_bound_cents, saddle_force
from geometry.playing import pluck_height_mm


def down_n(tension, degrees):
    """Straight down from a string that falls as much on both sides."""
    return saddle_force(tension, front_fall_rad=np.radians(degrees), rear_fall_rad=np.radians(degrees)).down_n


def test_tightrope():
    """University Physics m58300: 70.0 kg at 5.0° either side: 3930 N (the book rounds the sine); read."""
    assert 70.0 * 9.80 / down_n(1.0, 5.0) == pytest.approx(3930.0, abs=6.0)


def test_spider():
    """University Physics m58300: 2.00e-5 kg at 12°: 4.71e-4 N, 2.40 times its weight; read."""
    tension = 2.00e-5 * 9.80 / down_n(1.0, 12.0)
    assert tension == pytest.approx(4.71e-4, abs=0.005e-4)
    assert tension / (2.00e-5 * 9.80) == pytest.approx(2.40, abs=0.006)


def test_car_in_mud():
    """University Physics m58303: 200 N in the middle of 3.0 m that gives 0.25 m: 6.0e2 N; read. A pluck is the same."""
    middle = pluck_height_mm(200.0, from_saddle_mm=1500, length_mm=3000, tension_n=600.0)
    assert middle == pytest.approx(250.0, rel=1e-12)
    aside = np.arcsin(0.25 / 1.5)
    force = saddle_force(600.0, front_fall_rad=aside, rear_fall_rad=aside)
    assert force.resultant_n == pytest.approx(200.0, abs=5.0 / 3)


@pytest.mark.parametrize(
    ("degrees", "newtons"),
    [(5, 6.1067), (10, 12.2018), (13, 15.8484), (15, 18.2737), (20, 24.3107), (30, 36.2347)],
)
def test_resultant_of_seventy_newtons(degrees, newtons):
    """Computed: 2·T·sin(β/2)."""
    force = saddle_force(70.0, front_fall_rad=0.0, rear_fall_rad=np.radians(degrees))
    assert force.resultant_n == pytest.approx(newtons, abs=5.1e-5)


def test_identities():
    """Exact: as much as the tension at 60°, twice at 180°, T·β when small; and the three numbers are not the same."""
    assert saddle_force(1.0, front_fall_rad=0.0, rear_fall_rad=np.pi / 3).resultant_n == pytest.approx(1.0, rel=1e-14)
    assert saddle_force(1.0, front_fall_rad=np.pi / 2, rear_fall_rad=np.pi / 2).resultant_n == pytest.approx(2.0)
    assert saddle_force(1.0, front_fall_rad=0.0, rear_fall_rad=1e-4).resultant_n == pytest.approx(1e-4, rel=1e-8)
    force = saddle_force(70.0, front_fall_rad=0.0, rear_fall_rad=np.radians(10))
    parts = (force.resultant_n, force.down_n, force.towards_nut_n)
    assert parts == pytest.approx((12.2018, 12.1554, 1.0635), abs=5.1e-5)


def ratio(degrees, friction):
    """Tension ratio of the capstan: a cents bound is 600·log2 of it."""
    return 2 ** (capstan_bound_cents(np.radians(degrees), friction=friction) / 600)


def test_rope_round_a_post():
    """Baker & Haynes, Engineering Statics (2020), 'Flexible belts': 100 lb, 4.5 turns, friction 0.23: 0.15 lb; read."""
    assert 100.0 / ratio(4.5 * 360, 0.23) == pytest.approx(0.15, abs=0.005)


@pytest.mark.parametrize(
    ("friction", "degrees", "printed"),
    [
        (0.1, 10, 1.01761), (0.1, 30, 1.05375), (0.1, 180, 1.36911), (0.2, 10, 1.03552), (0.2, 15, 1.05375),
        (0.2, 180, 1.87446), (0.3, 10, 1.05375), (0.3, 20, 1.11040), (0.3, 180, 2.56633),
    ],
)  # fmt: skip
def test_capstan_ratios(friction, degrees, printed):
    """Computed: exp(μ·β)."""
    assert ratio(degrees, friction) == pytest.approx(printed, abs=6e-6)
