"""Forces on the saddle, by vectors; what holds the string, and the capstan's bound."""

import mpmath
import numpy as np
import pytest
from hypothesis import given

from geometry.errors import GeometryError
from geometry.force import (
    capstan_bound_cents,
    holding_break_rad,
    holding_force_n,
    pluck_side_force_n,
    post_loads_n,
    saddle_force,
)
from tests.geometry_cast import between, per_string


@given(between(20, 150), between(-0.05, 0.4), between(-0.05, 0.6))
def test_the_force_is_the_sum_of_two_pulls(tension, front, rear):
    """Two vectors of the string's tension, towards nut and tail, both downwards by their falls."""
    pull = tension * np.array([[-np.cos(front), -np.sin(front)], [np.cos(rear), -np.sin(rear)]]).sum(axis=0)
    force = saddle_force(tension, front_fall_rad=front, rear_fall_rad=rear)
    assert -force.towards_nut_n == pytest.approx(pull[0], abs=1e-9)
    assert force.down_n == pytest.approx(-pull[1], abs=1e-9)
    assert abs(force.resultant_n) == pytest.approx(np.hypot(*pull), abs=1e-9)


def test_shallow_angles_keep_their_digits():
    with mpmath.workdps(40):
        exact = float(70 * (mpmath.cos(mpmath.mpf("1e-5")) - mpmath.cos(mpmath.mpf("2e-5"))))
    force = saddle_force(70.0, front_fall_rad=1e-5, rear_fall_rad=2e-5)
    assert force.towards_nut_n == pytest.approx(exact, rel=1e-12)


def test_a_break_of_60_degrees_pushes_with_the_tension():
    """Identity: 2·sin 30° = 1."""
    assert saddle_force(70.0, front_fall_rad=0.0, rear_fall_rad=np.pi / 3).resultant_n == pytest.approx(70.0)


@given(per_string(0, 30), per_string(-35, 35), between(60, 100))
def test_posts_balance_forces_and_moments(down, lateral, span):
    bass, treble = post_loads_n(down, lateral_mm=lateral, span_mm=span)
    assert bass + treble == pytest.approx(down.sum(), abs=1e-9)
    assert (treble - bass) * span / 2 == pytest.approx((down * lateral).sum(), abs=1e-8)


def test_missing_strings_press_on_nothing():
    bass, treble = post_loads_n([[10.0, np.nan], [np.nan, np.nan]], lateral_mm=[-20.0, 20.0], span_mm=80.0)
    np.testing.assert_allclose(bass, [7.5, np.nan])
    np.testing.assert_allclose(treble, [2.5, np.nan])


@given(between(0.1, 20), between(20, 120), between(0.2, 1.2))
def test_holding_reads_back(side, tension, half_angle):
    bend = holding_break_rad(side, tension_n=tension, half_angle_rad=half_angle)
    if np.isinf(bend):
        assert side * np.tan(half_angle) > 2 * tension
    else:
        resultant = saddle_force(tension, front_fall_rad=0.0, rear_fall_rad=bend).resultant_n
        assert holding_force_n(resultant, half_angle_rad=half_angle) == pytest.approx(side, rel=1e-9)


def test_a_narrow_groove_holds_more():
    assert holding_force_n(12.0, half_angle_rad=0.5) > holding_force_n(12.0, half_angle_rad=0.9)


@given(between(0.5, 8), between(0, 1), between(300, 900))
def test_both_ends_share_the_pluck(force, share, length):
    at_saddle = pluck_side_force_n(force, from_saddle_mm=share * length, length_mm=length)
    at_nut = pluck_side_force_n(force, from_saddle_mm=(1 - share) * length, length_mm=length)
    assert at_saddle + at_nut == pytest.approx(force, abs=1e-9)


@given(between(0, 0.8), between(0, 1))
def test_capstan_bound_is_the_pitch_of_the_tension_ratio(bend, friction):
    ratio = np.exp(friction * bend)
    assert capstan_bound_cents(bend, friction=friction) == pytest.approx(600 * np.log2(ratio), abs=1e-9)


def test_a_string_that_does_not_press_cannot_stick():
    assert capstan_bound_cents(-0.1, friction=0.2) == 0.0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: saddle_force(-1.0, front_fall_rad=0, rear_fall_rad=0), "tension_n is -1"),
        (lambda: holding_force_n(1.0, half_angle_rad=2.0), "below a quarter turn"),
        (lambda: pluck_side_force_n(1.0, from_saddle_mm=700, length_mm=600), "from_saddle_mm"),
        (lambda: capstan_bound_cents(0.2, friction=3.0), "friction is 3"),
    ],
)
def test_bad_arguments(call, message):
    with pytest.raises(GeometryError, match=message):
        call()
