"""Fret positions, scales, spacing and the board's radius."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.frets import (
    bridge_radius_mm,
    crown_drop_mm,
    fan_offset_mm,
    fret_fraction,
    fret_position_mm,
    fret_radius_mm,
    speaking_length_mm,
    string_lateral_mm,
    string_scale_mm,
    string_spacing_mm,
)


def test_positions_of_equal_temperament():
    """Identities of 2^(1/12): the octave is half the scale, two octaves three quarters."""
    assert fret_position_mm([0, 12, 24], scale_mm=650).tolist() == [0.0, 325.0, 487.5]


def test_each_step_is_what_is_left_divided_by_one_constant():
    """The constant 17.817154 (G. Byers' summary of American Lutherie 47, 1996, prints 17.817; read)."""
    left = speaking_length_mm(np.arange(25), scale_mm=650)
    np.testing.assert_allclose(left[:-1] / -np.diff(left), 17.817153745, rtol=1e-9)


@given(st.floats(0, 36), st.floats(300, 900))
def test_fret_and_bridge_share_the_scale(fret, scale):
    assert fret_position_mm(fret, scale_mm=scale) + speaking_length_mm(fret, scale_mm=scale) == pytest.approx(scale)


def test_whole_numbers_and_floats_give_the_same():
    assert fret_fraction(7) == fret_fraction(7.0) == fret_fraction(np.array([7]))[0]


@pytest.mark.parametrize("bad", [-1, -0.5, [3, -1]])
def test_there_is_no_fret_behind_the_nut(bad):
    with pytest.raises(GeometryError, match="fret is"):
        fret_fraction(bad)


def test_spacing_is_symmetric_and_rises_to_the_treble():
    for count in (1, 4, 5, 6, 7, 12):
        spaced = string_spacing_mm(count, spread_mm=52.0)
        np.testing.assert_allclose(spaced, -spaced[::-1], atol=1e-12)
        assert (np.diff(spaced) > 0).all()
        assert np.ptp(spaced) == (52.0 if count > 1 else 0.0)


def test_spacing_of_many_instruments():
    assert string_spacing_mm(6, spread_mm=np.ones((3, 2))).shape == (3, 2, 6)


def test_strings_run_straight_from_nut_to_bridge():
    lateral = string_lateral_mm([0.0, 12.0, np.inf], lateral_nut_mm=[-17.0, 17.0], lateral_bridge_mm=[-25.0, 25.0])
    np.testing.assert_allclose(lateral, [[-17, 17], [-21, 21], [-25, 25]])


def test_scales_of_a_fanned_board_keep_to_the_strings_there_are():
    lateral = np.array([np.nan, -15.0, -5.0, 5.0, 15.0, np.nan])
    scale = string_scale_mm(lateral, scale_bass_mm=650.0, scale_treble_mm=620.0)
    np.testing.assert_allclose(scale, [np.nan, 650, 640, 630, 620, np.nan])


def test_one_string_has_the_bass_scale():
    assert string_scale_mm([3.0], scale_bass_mm=650.0, scale_treble_mm=600.0).tolist() == [650.0]


@given(st.floats(0, 20), st.lists(st.floats(300, 900), min_size=2, max_size=8))
def test_fanned_frets_meet_at_the_perpendicular_one(fret, scales):
    offset = fan_offset_mm(scales, perpendicular_fret=fret)
    place = offset + fret_position_mm(fret, scale_mm=scales)
    np.testing.assert_allclose(place, place[0], atol=1e-9)


def test_a_cone_is_linear_along_the_board_and_goes_on_to_the_bridge():
    radius = {"radius_nut_mm": 240.0, "radius_end_mm": 400.0, "end_fret": 21}
    assert fret_radius_mm(0, **radius) == 240.0
    assert fret_radius_mm(21, **radius) == pytest.approx(400.0)
    share = fret_fraction(21)
    assert bridge_radius_mm(**radius) == pytest.approx(240.0 + 160.0 / share)


def test_a_flat_board_stays_flat():
    flat = {"radius_nut_mm": np.inf, "radius_end_mm": np.inf, "end_fret": 19}
    assert np.isinf(fret_radius_mm([1, 12], **flat)).all()
    assert crown_drop_mm([-25.0, 0.0], radius_mm=np.inf).tolist() == [0.0, 0.0]


def test_flat_beside_round_boards():
    radius = fret_radius_mm(12, radius_nut_mm=[np.inf, 300.0], radius_end_mm=[np.inf, 300.0], end_fret=20)
    assert radius.tolist() == [np.inf, 300.0]


def test_half_flat_is_refused():
    with pytest.raises(GeometryError, match="infinite where radius_nut_mm is"):
        fret_radius_mm(12, radius_nut_mm=300.0, radius_end_mm=np.inf, end_fret=20)


def test_drop_of_pythagorean_triples():
    """Exact: 10 − sqrt(10² − 6²) = 2 and 10 − sqrt(10² − 8²) = 4; sagitta by intersecting chords."""
    assert crown_drop_mm([6.0, -8.0, 10.0], radius_mm=10.0).tolist() == [2.0, 4.0, 10.0]


@given(st.floats(-30, 30), st.floats(100, 1e9))
def test_drop_keeps_its_digits_on_flat_boards(lateral, radius):
    """Against two terms of the sagitta's series ``y²/2R·(1 + q/4 + q²/8 + …)``, q being (y/R)²."""
    ratio = (lateral / radius) ** 2
    series = lateral**2 / (2 * radius) * (1 + ratio / 4)
    found = crown_drop_mm(lateral, radius_mm=radius)
    assert found == pytest.approx(series, rel=0.15 * ratio**2 + 1e-14, abs=1e-300)


def test_beyond_the_radius_there_is_no_board():
    with pytest.raises(GeometryError, match="at most radius_mm"):
        crown_drop_mm(11.0, radius_mm=10.0)


def test_missing_strings_stay_missing():
    drop = crown_drop_mm([np.nan, 6.0], radius_mm=10.0)
    assert np.isnan(drop[0])
    assert drop[1] == 2.0
