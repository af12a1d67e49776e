"""Sagitta of arcs, and why relief may be a parabola."""

import numpy as np
import pytest
from scipy.optimize import brentq

from geometry.frets import crown_drop_mm, fret_position_mm
from geometry.relief import hang_fraction


def test_the_earth_falls_away():
    """University Physics m58291: 5 m in 8000 m; radius 6.37e6 m from m58323; read."""
    assert crown_drop_mm(8000.0, radius_mm=6.37e6) == pytest.approx(5.0, abs=0.05)


def test_right_triangles():
    """Exact: chords 12 and 16 of a circle of radius 10 have sagittas 2 and 4."""
    assert crown_drop_mm([6.0, 8.0], radius_mm=10.0) == pytest.approx([2.0, 4.0], rel=1e-15)


@pytest.mark.parametrize(
    ("chord", "radius", "sagitta"),
    [(52, 184.15, 1.844700), (52, 254, 1.334213), (52, 304.8, 1.110949), (52, 400, 0.845894), (43, 304.8, 0.759230)],
)
def test_boards_of_usual_radius(chord, radius, sagitta):
    """Computed."""
    assert crown_drop_mm(chord / 2, radius_mm=radius) == pytest.approx(sagitta, abs=5.1e-7)


def test_intersecting_chords_and_the_railway_rule():
    """s·(2·r − s) = (c/2)² exactly, s near c²/(8·r): railway surveying notes; read."""
    sagitta = crown_drop_mm(26.0, radius_mm=254.0)
    assert sagitta * (2 * 254.0 - sagitta) == pytest.approx(26.0**2, rel=1e-14)
    assert sagitta == pytest.approx(52.0**2 / (8 * 254.0), rel=0.01)


def test_relief_as_parabola_or_circle():
    """0.25 mm over the frets of a usual board: parabola and circle differ below 1e-6 mm at every fret; computed."""
    first, last = fret_position_mm([1, 22], scale_mm=648)
    half, relief = (last - first) / 2, 0.25
    radius = (half**2 + relief**2) / (2 * relief)
    assert radius == pytest.approx(brentq(lambda one: one - np.sqrt(one**2 - half**2) - relief, half, 1e6), rel=1e-9)
    frets = np.arange(1, 23)
    aside = fret_position_mm(frets, scale_mm=648) - (first + last) / 2
    circle = relief - crown_drop_mm(aside, radius_mm=radius)
    assert relief * hang_fraction(frets, end_fret=22) == pytest.approx(circle, abs=1e-6)
