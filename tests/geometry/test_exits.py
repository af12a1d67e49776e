"""Bounds on the exit: at the bound the rule holds exactly, beyond it no longer."""

import numpy as np
import pytest
from hypothesis import given

from geometry.errors import GeometryError
from geometry.exits import Bound, exit_bounds
from geometry.force import holding_break_rad, holding_force_n, saddle_force
from geometry.tail import tail_path
from tests.geometry_cast import between

AT = {"run_mm": 40.0, "front_fall_rad": 0.06}


@given(between(10, 20), between(25, 60), between(0, 0.1), between(0.11, 0.2), between(0.21, 0.6), between(0, 8))
def test_break_limits_hold_exactly_at_their_bounds(crest, run, front, low, high, radius):
    bounds = exit_bounds(crest, run_mm=run, front_fall_rad=front, break_low_rad=low, break_high_rad=high,
                         bar_radius_mm=radius)  # fmt: skip
    for exit_mm, angle in ((bounds.upper_mm, low), (bounds.lower_mm, high)):
        path = tail_path(crest, exit_mm, run_mm=run, front_fall_rad=front, bar_radius_mm=radius)
        assert path.break_rad == pytest.approx(angle, abs=1e-9)


@given(between(10, 20), between(3, 9), between(1, 5), between(0, 0.9), between(0, 8))
def test_clearance_holds_exactly_at_its_bound(crest, behind, below, least, radius):
    edge = {"edge_behind_mm": behind, "edge_below_mm": below}
    bounds = exit_bounds(crest, **AT, **edge, clearance_low_mm=least, bar_radius_mm=radius)
    path = tail_path(crest, bounds.lower_mm, **AT, **edge, bar_radius_mm=radius)
    assert path.clearance_mm == pytest.approx(least, abs=1e-9)
    assert Bound(bounds.lower_by) is Bound.EDGE


@given(between(0.5, 6), between(20, 120), between(0.3, 1.1))
def test_the_groove_just_holds_at_its_bound(side, tension, half_angle):
    hold = holding_break_rad(side, tension_n=tension, half_angle_rad=half_angle)
    bounds = exit_bounds(15.0, **AT, hold_rad=hold)
    path = tail_path(15.0, bounds.upper_mm, **AT)
    force = saddle_force(tension, front_fall_rad=0.06, rear_fall_rad=path.rear_fall_rad)
    assert holding_force_n(force.resultant_n, half_angle_rad=half_angle) == pytest.approx(side, rel=1e-9)


def test_the_stricter_limit_is_named():
    found = exit_bounds(15.0, **AT, break_low_rad=0.1, hold_rad=[0.05, 0.2, np.nan], break_high_rad=[0.2, 0.9, np.nan],
                        edge_behind_mm=[6.0, 6.0, np.nan], edge_below_mm=2.0)  # fmt: skip
    assert [Bound(one).name for one in found.upper_by] == ["LEAST_BREAK", "HOLDING", "LEAST_BREAK"]
    assert [Bound(one).name for one in found.lower_by] == ["MOST_BREAK", "EDGE", "NONE"]
    assert found.lower_mm[2] == -np.inf


def test_no_limits_no_bounds():
    found = exit_bounds(15.0, **AT)
    assert (float(found.lower_mm), float(found.upper_mm)) == (-np.inf, np.inf)
    assert Bound(found.upper_by) is Bound.NONE


def test_a_bend_that_nothing_gives_leaves_no_exit():
    assert exit_bounds(15.0, **AT, hold_rad=np.inf).upper_mm == -np.inf


def test_a_missing_string_is_missing():
    found = exit_bounds([15.0, np.nan], **AT, break_low_rad=0.1)
    assert np.isnan(found.upper_mm).tolist() == np.isnan(found.lower_mm).tolist() == [False, True]


def test_limits_the_wrong_way_round_are_refused():
    with pytest.raises(GeometryError, match="at most break_high_rad"):
        exit_bounds(15.0, **AT, break_low_rad=0.3, break_high_rad=0.2)
