"""Saddles turned round, their travel, and the better way."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.saddle import FLAT_TO_FRONT, FLAT_TO_REAR, saddle_reach, usual_facing
from tests.geometry_cast import between


def test_turning_round_moves_the_crest_by_about_2_mm():
    """Common practice, no source."""
    reach = saddle_reach(0.0, back_left_mm=5.0, forward_left_mm=5.0, facing=[FLAT_TO_FRONT, FLAT_TO_REAR])
    assert reach.screw_turned_mm.tolist() == [-2.0, 2.0]


def brute_force(move, back, forward, facing, shift):
    """Every facing tried on a fine grid of screw positions: does a crest get within half a step?"""
    reached = {}
    for turn in (False, True):
        crest = -facing * shift if turn else 0.0
        screws = np.linspace(-forward, back, 4001)
        reached[turn] = np.abs(crest + screws - move).min() <= max(back + forward, 1e-3) / 8000 + 1e-9
    return reached[False], reached[True]


@given(between(-8, 8), between(0, 6), between(0, 6), st.sampled_from([1.0, -1.0]), between(0, 3))
def test_reach_agrees_with_trying(move, back, forward, facing, shift):
    reach = saddle_reach(move, back_left_mm=back, forward_left_mm=forward, facing=facing, turn_shift_mm=shift)
    if min(abs(reach.left_mm), abs(reach.left_turned_mm)) < 0.01:
        return
    as_is, turned = brute_force(move, back, forward, facing, shift)
    assert (bool(reach.reaches), bool(reach.reaches_turned)) == (as_is, turned)
    assert reach.turn == (turned and not as_is)
    assert (reach.short_mm == 0) == (as_is or turned)


@given(between(-8, 8), between(0, 6), between(0, 6), st.sampled_from([1.0, -1.0]))
def test_what_is_short_is_just_enough(move, back, forward, facing):
    short = saddle_reach(move, back_left_mm=back, forward_left_mm=forward, facing=facing).short_mm
    again = saddle_reach(move, back_left_mm=back + short + 1e-9, forward_left_mm=forward + short + 1e-9, facing=facing)
    assert again.reaches | again.reaches_turned


@given(between(-4, 4), between(0, 6), between(0, 6), st.sampled_from([1.0, -1.0]))
def test_turned_twice_is_as_before(move, back, forward, facing):
    one = saddle_reach(move, back_left_mm=back, forward_left_mm=forward, facing=facing)
    other = saddle_reach(one.screw_turned_mm, back_left_mm=back, forward_left_mm=forward, facing=-facing)
    assert other.screw_turned_mm == pytest.approx(move, abs=1e-12)
    assert other.left_turned_mm == pytest.approx(one.left_mm, abs=1e-12)


def test_the_best_way_leaves_most_travel_for_every_string():
    reach = saddle_reach(
        [1.5, -1.5, 0.0], back_left_mm=2.0, forward_left_mm=2.0, facing=[-1.0, 1.0, 1.0], turn_shift_mm=2.0
    )
    assert reach.best_facing.tolist() == [1.0, -1.0, 1.0]
    assert reach.left_turned_mm.tolist() == [1.5, 1.5, 0.0]


def test_without_a_known_facing_only_the_present_way_is_answered():
    reach = saddle_reach(1.0, back_left_mm=2.0, forward_left_mm=2.0, facing=np.nan)
    assert reach.reaches
    assert not reach.reaches_turned
    assert np.isnan(reach.best_facing)
    assert reach.short_mm == 0.0


def test_without_known_travel_nothing_reaches_and_nothing_is_short():
    reach = saddle_reach(1.0, back_left_mm=np.nan, forward_left_mm=2.0, facing=1.0)
    assert not reach.reaches
    assert not reach.turn
    assert np.isnan(reach.short_mm)


def test_the_usual_start_is_half_and_half():
    """Common practice, no source."""
    assert usual_facing(4).tolist() == [1, 1, -1, -1]
    assert usual_facing(5).tolist() == [1, 1, 1, -1, -1]


@pytest.mark.parametrize("changes", [{"facing": 0.5}, {"back_left_mm": -1.0}, {"turn_shift_mm": -2.0}])
def test_bad_arguments(changes):
    with pytest.raises(GeometryError):
        saddle_reach(1.0, **({"back_left_mm": 1.0, "forward_left_mm": 1.0, "facing": 1.0} | changes))
