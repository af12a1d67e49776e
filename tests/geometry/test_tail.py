"""The string behind its crest; shapely measures the clearance, mpmath takes the derivatives."""

import mpmath
import numpy as np
import pytest
from hypothesis import assume, given
from shapely.geometry import LineString, Point

from geometry.errors import GeometryError
from geometry.tail import exit_height_mm, front_fall_rad, rear_fall_rad, tail_path
from tests.geometry_cast import between

EDGE = {"edge_behind_mm": 6.0, "edge_below_mm": 2.0}


@given(between(10, 20), between(-2, 12), between(25, 60), between(3, 12), between(0.2, 6))
def test_shapely_agrees_on_the_clearance(crest, leaves, run, behind, below):
    path = tail_path(crest, leaves, run_mm=run, front_fall_rad=0.05, edge_behind_mm=behind, edge_below_mm=below)
    string = LineString([(0, crest), (run, leaves)])
    upright = LineString([(behind, -1000), (behind, 1000)])
    over_edge = string.intersection(upright).y - (crest - below)
    assert path.clearance_mm == pytest.approx(over_edge, abs=1e-9)
    assert path.on_edge == (path.clearance_mm < 0)


@given(between(10, 20), between(-4, 10), between(25, 60), between(3, 12), between(0.2, 4))
def test_on_the_edge_both_bends_add_up(crest, leaves, run, behind, below):
    path = tail_path(crest, leaves, run_mm=run, front_fall_rad=0.05, edge_behind_mm=behind, edge_below_mm=below)
    assume(path.on_edge)
    last_fall = np.arctan2(crest - below - leaves, run - behind)
    assert path.break_rad + path.edge_bend_rad == pytest.approx(0.05 + last_fall, abs=1e-12)
    assert path.edge_bend_rad > 0
    assert path.short_length_mm == pytest.approx(Point(0, crest).distance(Point(behind, crest - below)), abs=1e-12)


@given(between(10, 20), between(2, 10), between(25, 60), between(1, 9))
def test_a_wrap_touches_its_bar_in_one_point(crest, centre, run, radius):
    """The line to the exit is tangent: shapely's distance from the bar's centre is the radius, at the exit itself."""
    path = tail_path(crest, centre, run_mm=run, front_fall_rad=0.05, bar_radius_mm=radius)
    middle, leaves = Point(run, centre), Point(path.exit_behind_mm, path.exit_mm)
    assert middle.distance(leaves) == pytest.approx(radius, abs=1e-9)
    beyond = LineString([(0, crest), (2 * path.exit_behind_mm, 2 * path.exit_mm - crest)])
    assert middle.distance(beyond) == pytest.approx(radius, abs=1e-9)
    assert path.exit_mm > centre


def test_a_bar_without_thickness_is_a_hole():
    one = tail_path(15.0, 9.0, run_mm=40.0, front_fall_rad=0.05, **EDGE)
    other = tail_path(15.0, 9.0, run_mm=40.0, front_fall_rad=0.05, bar_radius_mm=0.0, **EDGE)
    for name in one.__dataclass_fields__:
        np.testing.assert_array_equal(getattr(one, name), getattr(other, name))
    assert (float(one.exit_behind_mm), float(one.exit_mm)) == (40.0, 9.0)


def test_wrapping_over_gives_the_shallower_angle():
    """Common practice, no source: strings wrapped over the top bend less with the tailpiece as low."""
    through = tail_path(15.0, 6.0, run_mm=40.0, front_fall_rad=0.05)
    wrapped = tail_path(15.0, 6.0, run_mm=40.0, front_fall_rad=0.05, bar_radius_mm=6.5)
    assert wrapped.break_rad < through.break_rad


def test_lowering_the_tailpiece_steepens_until_the_rear_edge_is_met():
    """Common practice, no source."""
    path = tail_path(15.0, np.linspace(14, 0, 57), run_mm=40.0, front_fall_rad=0.05, **EDGE)
    assert (np.diff(path.rear_fall_rad[~path.on_edge]) > 0).all()
    assert (np.diff(path.clearance_mm) < 0).all()
    assert not path.on_edge[0]
    assert path.on_edge[-1]
    # Once on the edge, lowering on changes the bend over the crest no more: it goes into the second bend.
    assert np.ptp(path.break_rad[path.on_edge]) == 0.0
    assert (np.diff(path.edge_bend_rad[path.on_edge]) > 0).all()


def test_contact_begins_where_clearance_ends():
    touching = 15.0 - 2.0 * 40.0 / 6.0
    for nudge, on_edge in ((1e-9, False), (-1e-9, True)):
        path = tail_path(15.0, touching + nudge, run_mm=40.0, front_fall_rad=0.05, **EDGE)
        assert bool(path.on_edge) is on_edge
        assert path.break_rad == pytest.approx(0.05 + np.arctan2(2, 6), abs=1e-9)


def test_a_wrapped_string_on_the_edge_is_tangent_from_there():
    path = tail_path(15.0, -6.0, run_mm=40.0, front_fall_rad=0.05, bar_radius_mm=5.0, **EDGE)
    assert path.on_edge
    line = LineString([(6.0, 13.0), (path.exit_behind_mm, path.exit_mm)])
    assert Point(40.0, -6.0).distance(line) == pytest.approx(5.0, abs=1e-9)


def test_without_an_edge_only_the_angle_is_known():
    path = tail_path(15.0, 9.0, run_mm=40.0, front_fall_rad=0.05)
    assert np.isnan(path.clearance_mm)
    assert not path.on_edge
    assert path.break_rad == pytest.approx(0.05 + np.arctan2(6, 40))
    assert path.edge_bend_rad == 0.0


def test_an_edge_behind_the_exit_is_none():
    path = tail_path(15.0, 9.0, run_mm=5.0, front_fall_rad=0.05, **EDGE)
    assert np.isnan(path.clearance_mm)


def test_a_crest_inside_the_bar_has_no_answer():
    assert np.isnan(rear_fall_rad(3.0, run_mm=4.0, bar_radius_mm=5.0))
    assert np.isnan(rear_fall_rad(3.0, run_mm=4.0, bar_radius_mm=6.0))


@given(between(-5, 15), between(10, 60), between(0, 8))
def test_fall_solves_its_own_equation(drop, run, radius):
    fall = rear_fall_rad(drop, run_mm=run, bar_radius_mm=radius)
    assert drop * np.cos(fall) - run * np.sin(fall) == pytest.approx(radius, abs=1e-9)
    with mpmath.workdps(30):
        exact = mpmath.atan2(drop, run) - mpmath.asin(mpmath.mpf(radius) / mpmath.hypot(drop, run))
        assert fall == pytest.approx(float(exact), abs=1e-14)


def test_front_fall_is_tilt_and_climb():
    assert front_fall_rad(0.05, nut_mm=0.0, crest_mm=628.0, crest_x_mm=628.0) == pytest.approx(0.05 + np.pi / 4)


def test_studs_carry_the_exits_by_the_lever():
    leaves = exit_height_mm([5.0, 5.0], [7.0, 5.0], lateral_mm=[-41.0, 0.0, 41.0], span_mm=82.0, above_stud_mm=4.0)
    np.testing.assert_allclose(leaves, [[9.0, 10.0, 11.0], [9.0, 9.0, 9.0]])


def test_missing_things_stay_with_their_string():
    leaves = exit_height_mm(5.0, 7.0, lateral_mm=[-20.0, np.nan], span_mm=82.0)
    assert np.isnan(leaves).tolist() == [False, True]
    path = tail_path([15.0, np.nan], 9.0, run_mm=40.0, front_fall_rad=0.05, **EDGE)
    assert np.isnan(path.break_rad).tolist() == [False, True]
    assert np.isnan(path.edge_bend_rad).tolist() == [False, True]


@pytest.mark.parametrize("shape", [(), (6,), (3, 6), (2, 3, 6)])
def test_shapes(shape):
    path = tail_path(np.full(shape, 15.0), 9.0, run_mm=40.0, front_fall_rad=0.05, bar_radius_mm=3.0, **EDGE)
    for name in path.__dataclass_fields__:
        assert np.shape(getattr(path, name)) == shape, name


@pytest.mark.parametrize(
    ("changes", "message"),
    [({"run_mm": 0.0}, "run_mm is 0"), ({"bar_radius_mm": -1.0}, "bar_radius_mm"),
     ({"edge_behind_mm": 0.0}, "edge_behind_mm is 0")],
)  # fmt: skip
def test_bad_arguments(changes, message):
    with pytest.raises(GeometryError, match=message):
        tail_path(15.0, 9.0, **({"run_mm": 40.0, "front_fall_rad": 0.05} | changes))
