"""Clearance and buzz of fretted strings: against shapely and plain loops, high frets, symmetry, batches."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point

from geometry.crowns import crown_map_mm
from geometry.errors import GeometryError
from geometry.frets import fret_position_mm, string_spacing_mm
from geometry.neck import Neck, height_at_fret_mm
from geometry.playing import buzz_map, fretted_clearance_mm, pluck_reach_mm

NUT, CREST = np.array([0.55, 0.5, 0.48, 0.45, 0.42, 0.4]), np.array([3.6, 3.7, 3.7, 3.6, 3.3, 2.9])
TENSION = np.array([75.0, 86.0, 82.0, 73.0, 69.0, 72.0])


def neck(frets=22, strings=6):
    across = string_spacing_mm(strings, spread_mm=35.5), string_spacing_mm(strings, spread_mm=51.0)
    return Neck(np.full(strings, 628.0), *across, 305.0, 305.0, frets)


def setup(**changes):
    crown = crown_map_mm(neck(), relief_mm=0.15)
    return {"crown_mm": crown, "nut_mm": NUT, "crest_mm": CREST, **changes}


def test_the_open_string_is_the_height_over_every_fret():
    found = fretted_clearance_mm(neck(), position=0, **setup())
    for fret in (1, 12, 22):
        height = height_at_fret_mm(neck(), fret, nut_mm=NUT, crest_mm=CREST, relief_mm=0.15)
        assert found[fret - 1] == pytest.approx(height, abs=1e-12)


@given(st.integers(0, 21), st.integers(0, 5), st.lists(st.floats(-0.1, 0.1), min_size=22, max_size=22))
def test_second_opinion_of_shapely(position, string, level):
    """The string as a line, each crown as a point under it: upright distances agree, and their signs with shapely's."""
    crown = crown_map_mm(neck(), relief_mm=0.15, level_mm=np.array(level)[:, None])
    found = fretted_clearance_mm(neck(), position=position, **setup(crown_mm=crown))[:, string]
    along = fret_position_mm(np.arange(1, 23), scale_mm=628)
    start = (along[position - 1], crown[position - 1, string]) if position else (0.0, NUT[string])
    line = LineString([start, (628.0, CREST[string])])
    assert np.isnan(found[:position]).all()
    for fret in range(position, 22):
        upright = LineString([(along[fret], -50.0), (along[fret], 50.0)]).intersection(line)
        assert found[fret] == pytest.approx(upright.y - crown[fret, string], abs=1e-9)
        assert abs(found[fret]) >= line.distance(Point(along[fret], crown[fret, string])) - 1e-9


def plain_map(crown, nut, crest, tension, force=0.3, share=0.15):
    """The same by loops, one string and position after the other."""
    along = fret_position_mm(np.arange(1, 23), scale_mm=628)
    margin, where = np.full((22, 6), np.nan), np.full((22, 6), np.nan)
    for string in range(6):
        for position in range(22):
            start = along[position - 1] if position else 0.0
            level = crown[position - 1, string] if position else nut[string]
            best = np.inf
            for fret in range(position, 22):
                line = level + (crest[string] - level) * (along[fret] - start) / (628 - start)
                reach = pluck_reach_mm(
                    628 - along[fret], pluck_n=force, pluck_from_saddle_mm=share * 628, length_mm=628 - start,
                    tension_n=tension[string],
                )  # fmt: skip
                if line - crown[fret, string] - reach < best:
                    best = line - crown[fret, string] - reach
                    margin[position, string], where[position, string] = best, fret + 1
    return margin, where


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_second_opinion_of_plain_loops(seed):
    level = np.random.default_rng(seed).normal(0, 0.05, (22, 6))
    crown = crown_map_mm(neck(), relief_mm=0.2, level_mm=level)
    found = buzz_map(neck(), tension_n=TENSION, **setup(crown_mm=crown))
    margin, where = plain_map(crown, NUT, CREST, TENSION)
    assert found.margin_mm == pytest.approx(margin, abs=1e-10)
    assert (found.crown == where).all()
    assert found.smallest_mm == pytest.approx(margin.min(axis=0), abs=1e-10)
    assert (found.smallest_position == margin.argmin(axis=0)).all()
    assert (found.smallest_crown == where[margin.argmin(axis=0), np.arange(6)]).all()
    first = [np.argmax(column < 0) if (column < 0).any() else np.nan for column in margin.T]
    assert np.array_equal(found.first_position, np.array(first, dtype=float), equal_nan=True)


def test_a_high_fret_is_found():
    """Fret 9 stands 0.3 mm high: all strings strike it, first from where they are held below it, and nowhere above."""
    level = np.zeros((22, 1))
    level[8] = 0.3
    crown = crown_map_mm(neck(), relief_mm=0.15, level_mm=level)
    found = buzz_map(neck(), tension_n=TENSION, pluck_n=0.2, **setup(crown_mm=crown))
    struck = found.margin_mm < 0
    assert struck[8].all()
    assert (found.crown[struck] == 9).all()
    assert not struck[9:].any()
    assert (found.smallest_position == 8).all()
    assert not (buzz_map(neck(), tension_n=TENSION, pluck_n=0.2, **setup()).margin_mm < 0).any()


def test_harder_plucks_and_lower_crests_buzz_more():
    usual = buzz_map(neck(), tension_n=TENSION, **setup()).margin_mm
    assert (buzz_map(neck(), tension_n=TENSION, pluck_n=1.5, **setup()).margin_mm < usual).all()
    assert (buzz_map(neck(), tension_n=TENSION, **setup(crest_mm=CREST - 0.3)).margin_mm < usual).all()
    assert (buzz_map(neck(), tension_n=TENSION * 1.1, **setup()).margin_mm > usual).all()


def test_mirrored_instruments_give_mirrored_answers():
    level = np.random.default_rng(5).normal(0, 0.03, (22, 6))
    crown = crown_map_mm(neck(), relief_mm=0.2, level_mm=level)
    one = buzz_map(neck(), tension_n=TENSION, **setup(crown_mm=crown))
    turned = {"crown_mm": crown[:, ::-1], "nut_mm": NUT[::-1], "crest_mm": CREST[::-1]}
    other = buzz_map(neck(), tension_n=TENSION[::-1], **turned)
    for name, value in vars(one).items():
        assert np.array_equal(getattr(other, name), value[..., ::-1], equal_nan=True), name


def test_a_batch_equals_one_at_a_time():
    random = np.random.default_rng(6)
    crest, force = CREST + random.uniform(-0.5, 0.5, (2, 3, 6)), random.uniform(0.3, 2, (2, 3, 1))
    level = random.normal(0, 0.03, (2, 3, 22, 6))
    crown = crown_map_mm(neck(), relief_mm=0.1, level_mm=level)
    whole = buzz_map(neck(), tension_n=TENSION, pluck_n=force, **setup(crown_mm=crown, crest_mm=crest))
    assert whole.margin_mm.shape == (2, 3, 22, 6)
    for at in np.ndindex(2, 3):
        single = buzz_map(neck(), tension_n=TENSION, pluck_n=force[at], **setup(crown_mm=crown[at], crest_mm=crest[at]))
        for name, value in vars(whole).items():
            assert getattr(single, name) == pytest.approx(value[at], abs=1e-9, nan_ok=True), name


def test_missing_values_stay_alone():
    crown = setup()["crown_mm"].copy()
    crown[10, 1] = np.nan
    nut = np.where(np.arange(6) == 4, np.nan, NUT)
    found = buzz_map(neck(), tension_n=TENSION, **setup(crown_mm=crown, nut_mm=nut))
    # A string whose slot was not read has no open position; a crown that was not read is no place to hold the string,
    # and is left out of the others' margins.
    assert np.argwhere(np.isnan(found.margin_mm)).tolist() == [[0, 4], [11, 1]]
    assert not np.isnan(found.smallest_mm).any()
    gone = buzz_map(neck(), tension_n=np.where(np.arange(6) == 2, np.nan, TENSION), **setup())
    assert np.isnan(gone.smallest_mm).tolist() == [False, False, True, False, False, False]
    assert np.isnan(gone.smallest_crown[2])


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"crown_mm": np.zeros((5, 6))}, r"crown_mm is \(5, 6\); it must be shaped \(..., 22, strings\)"),
        ({"crest_x_mm": np.full(6, 400.0)}, "crest_x_mm is .*beyond the last fret"),
        ({"pluck_share": 0.4}, "pluck_share is 0.4; it must be such that the string is plucked beyond the last fret"),
        ({"pluck_n": -1.0}, "pluck_n is -1; it must be 0 or more"),
        ({"tension_n": 70.0}, "tension_n is 70; it must be an array with the strings on its last axis"),
    ],
)
def test_bad_arguments_are_named(changes, words):
    with pytest.raises(GeometryError, match=words):
        buzz_map(neck(), **{"tension_n": TENSION, **setup(**changes)})


@pytest.mark.parametrize("position", [-1, 22, 3.0])
def test_positions_off_the_neck_are_refused(position):
    with pytest.raises(GeometryError, match="a fret from 0 to 21"):
        fretted_clearance_mm(neck(), position=position, **setup())
