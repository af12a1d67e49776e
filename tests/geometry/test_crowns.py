"""Crowns of all frets under all strings, readings of a levelling included."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.crowns import crown_map_mm, crown_rise_mm, fret_count, over_frets
from geometry.errors import GeometryError
from geometry.frets import fret_position_mm, string_spacing_mm
from geometry.neck import Neck, crown_height_mm
from geometry.relief import hang_from_crowns_mm


def neck(batch=(), frets=22):
    shape = (*batch, 6)
    return Neck(
        np.full(shape, 628.0), np.broadcast_to(string_spacing_mm(6, spread_mm=35.5), shape),
        np.broadcast_to(string_spacing_mm(6, spread_mm=51.0), shape), np.full(batch, 305.0), np.full(batch, 400.0),
        np.full(batch, float(frets)),
    )  # fmt: skip


def test_the_same_as_fret_by_fret():
    relief = np.array([0.1, 0.3])
    found = crown_map_mm(neck((2,)), relief_mm=relief)
    assert found.shape == (2, 22, 6)
    for fret in (1, 7, 22):
        single = crown_height_mm(neck((2,)), np.full(2, float(fret)), relief_mm=relief)
        assert found[:, fret - 1] == pytest.approx(single, abs=1e-12)


def test_a_batch_equals_one_at_a_time():
    relief, level = np.array([0.0, 0.2, 0.4]), np.random.default_rng(2).normal(0, 0.03, (3, 22, 6))
    whole = crown_map_mm(neck((3,)), relief_mm=relief, level_mm=level)
    for one in range(3):
        assert whole[one] == pytest.approx(crown_map_mm(neck(), relief_mm=relief[one], level_mm=level[one]), abs=1e-12)


def test_measured_hang_replaces_the_parabola():
    read = -np.linspace(0, 0.3, 22) * np.linspace(1, 0, 22)
    hang = hang_from_crowns_mm(read, end_fret=22)
    found = crown_map_mm(neck(), relief_mm=9.9, hang_mm=hang)
    flat = crown_map_mm(neck(), relief_mm=0.0)
    assert flat - found == pytest.approx(np.repeat(hang[:, None], 6, axis=1), abs=1e-12)


def test_levelling_is_added_per_fret_or_per_string():
    whole, single = np.zeros((22, 1)), np.zeros((22, 6))
    whole[4], single[4] = 0.08, 0.08
    level = crown_map_mm(neck(), level_mm=whole)
    assert (level == crown_map_mm(neck(), level_mm=single)).all()
    assert level[4] - crown_map_mm(neck())[4] == pytest.approx(np.full(6, 0.08))


def test_missing_readings_stay_alone():
    level = np.zeros((22, 6))
    level[3, 2] = np.nan
    assert np.argwhere(np.isnan(crown_map_mm(neck(), level_mm=level))).tolist() == [[3, 2]]
    assert np.isnan(crown_map_mm(neck((2,)), relief_mm=[np.nan, 0.1])).all(axis=(1, 2)).tolist() == [True, False]


@given(st.lists(st.floats(-0.2, 0.2), min_size=5, max_size=12), st.floats(-2, 2), st.floats(-0.01, 0.01))
def test_a_rocking_straightedge_sees_no_slope(read, level, slope):
    """A straight line under all crowns changes nothing; interpolated by numpy as second opinion."""
    along = fret_position_mm(np.arange(1, len(read) + 1), scale_mm=640)
    found = crown_rise_mm(np.array(read) + level + slope * along)
    assert np.isnan(found[[0, -1]]).all()
    for one in range(1, len(read) - 1):
        line = np.interp(along[one], along[[one - 1, one + 1]], np.array(read)[[one - 1, one + 1]])
        assert found[one] == pytest.approx(read[one] - line, abs=1e-9)


def test_frets_are_counted_once():
    assert fret_count(neck((3,), frets=24)) == 24
    assert over_frets(neck((3,))).scale_mm.shape == (3, 1, 6)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: crown_map_mm(neck(), level_mm=np.zeros(22)), r"level_mm is \(22,\); it must be shaped"),
        (lambda: crown_map_mm(neck(), hang_mm=np.zeros(5)), r"hang_mm is \(5,\); it must be of one hang for each of"),
        (lambda: crown_rise_mm(np.zeros(4), frets=5), r"crown_mm is \(4,\); it must be of one height for each of 5"),
        (
            lambda: fret_count(Neck([628.0], [0.0], [0.0], 305.0, 305.0, [21.0, 22.0])),
            r"neck.end_fret is \[21.0, 22.0\]; it must be one whole number",
        ),
        (
            lambda: fret_count(Neck([628.0], [0.0], [0.0], 305.0, 305.0, 21.5)),
            r"neck.end_fret is 21.5; it must be one whole number",
        ),
    ],
)
def test_bad_arguments_are_named(call, words):
    with pytest.raises(GeometryError, match=words):
        call()
