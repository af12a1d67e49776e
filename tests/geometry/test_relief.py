"""Relief: the parabola, gaps read anywhere, and measured crowns."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.frets import fret_position_mm
from geometry.relief import hang_fraction, hang_from_crowns_mm, relief_from_gap_mm


def test_hang_is_nothing_at_both_ends_and_negative_outside():
    share = hang_fraction([1.0, 22.0, 0.0, 24.0], end_fret=22)
    np.testing.assert_allclose(share[:2], 0.0, atol=1e-15)
    assert (share[2:] < 0).all()


def test_the_parabola_is_a_circle_for_practical_purposes():
    """Relief 0.5 mm on 628 mm: a circle of the same sagitta differs by less than 1e-5 mm anywhere."""
    x = fret_position_mm(np.arange(1, 23), scale_mm=628.0)
    chord, sagitta = x[-1] - x[0], 0.5
    radius = (chord**2 / 4 + sagitta**2) / (2 * sagitta)
    from_middle = x - 0.5 * (x[0] + x[-1])
    circle = np.sqrt(radius**2 - from_middle**2) - (radius - sagitta)
    np.testing.assert_allclose(sagitta * hang_fraction(np.arange(1, 23), end_fret=22), circle, atol=1e-5)


@given(st.floats(-0.5, 1.0), st.integers(2, 21))
def test_a_gap_anywhere_gives_the_relief_back(relief, fret):
    gap = relief * hang_fraction(fret, end_fret=22)
    assert relief_from_gap_mm(gap, fret=fret, end_fret=22) == pytest.approx(relief, abs=1e-12)


@pytest.mark.parametrize("fret", [1, 22, 0, 24])
def test_no_relief_from_a_gap_at_the_ends(fret):
    with pytest.raises(GeometryError, match="between the first and the last fret"):
        relief_from_gap_mm(0.1, fret=fret, end_fret=22)


@given(st.floats(0, 0.6), st.floats(-3, 3), st.floats(-0.01, 0.01))
def test_crowns_measured_over_any_line_give_their_hang(relief, level, tilt):
    frets = np.arange(1, 23)
    hang = relief * hang_fraction(frets, end_fret=22)
    read = level + tilt * fret_position_mm(frets, scale_mm=628.0) - hang
    np.testing.assert_allclose(hang_from_crowns_mm(read, end_fret=22), hang, atol=1e-9)


def test_a_crown_not_read_leaves_the_others():
    read = np.array([2.0, np.nan, 1.8, 2.0])
    hang = hang_from_crowns_mm(read, end_fret=4)
    assert np.isnan(hang[1])
    assert np.isfinite(hang[[0, 2, 3]]).all()


def test_as_many_crowns_as_frets():
    with pytest.raises(GeometryError, match="each of 22 frets"):
        hang_from_crowns_mm([1.0, 2.0], end_fret=22)


def test_a_neck_of_one_fret_has_no_relief():
    with pytest.raises(GeometryError, match="end_fret"):
        hang_fraction(1, end_fret=1)
