"""Convex polygons from half-planes, on their own; shapely and scipy are the second opinions."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import HalfspaceIntersection
from shapely.geometry import MultiPoint, Point, Polygon

from geometry.polygon import nearest_point, polygon_corners


def around(angles, reach):
    """Half-planes at `reach` from the origin, facing away from it in the directions given."""
    return np.stack([np.cos(angles), np.sin(angles)], axis=-1), np.broadcast_to(reach, np.shape(angles))


@given(st.lists(st.floats(0, 6.28), min_size=1, max_size=9), st.lists(st.floats(0.1, 3), min_size=9, max_size=9))
def test_scipy_finds_the_same_corners(more, reach):
    angles = np.r_[[0.3, 2.4, 4.5], more]  # the first three close it
    normals, offsets = around(angles, np.r_[[1.0, 1.0, 1.0], reach[: len(more)]])
    corners = polygon_corners(normals, offsets)
    corners = corners[~np.isnan(corners[:, 0])]
    theirs = HalfspaceIntersection(np.c_[normals, -offsets], np.zeros(2)).intersections
    hull = MultiPoint(theirs).convex_hull
    assert Polygon(corners).exterior.is_ccw
    assert Polygon(corners).symmetric_difference(hull).area == pytest.approx(0.0, abs=1e-7)


@given(st.floats(-9, 9), st.floats(-9, 9))
def test_nearest_point_is_shapelys(x, y):
    normals, offsets = around(np.array([0.1, 1.2, 2.9, 4.0, 5.5]), np.array([1.0, 2.0, 0.5, 1.5, 1.0]))
    corners = polygon_corners(normals, offsets)
    found = nearest_point(normals, offsets, np.array([x, y]))
    polygon = Polygon(corners[~np.isnan(corners[:, 0])])
    assert np.hypot(*(found - [x, y])) == pytest.approx(polygon.distance(Point(x, y)), abs=1e-9)
    assert polygon.buffer(1e-9).contains(Point(found))


def test_an_empty_polygon_has_neither_corners_nor_a_nearest_point():
    normals, offsets = np.array([[1.0, 0], [-1, 0], [0, 1], [0, -1]]), np.array([-1.0, -1.0, 1.0, 1.0])
    assert np.isnan(polygon_corners(normals, offsets)).all()
    assert np.isnan(nearest_point(normals, offsets, np.array([3.0, 0.0]))).all()


def test_a_polygon_thin_as_a_line_has_two_corners():
    normals, offsets = np.array([[1.0, 0], [-1, 0], [0, 1], [0, -1]]), np.array([1.0, -1.0, 2.0, 0.0])
    corners = polygon_corners(normals, offsets)
    np.testing.assert_allclose(sorted(corners[~np.isnan(corners[:, 0])].tolist()), [[1.0, 0.0], [1.0, 2.0]])


def test_lines_that_coincide_or_are_no_bound_change_nothing():
    square = np.array([[1.0, 0], [-1, 0], [0, 1], [0, -1]])
    normals = np.r_[square, square[:2], [[0.6, 0.8]]]
    offsets = np.array([1.0, 1.0, 1.0, 1.0, 1.0, 1.0, np.inf])
    corners = polygon_corners(normals, offsets)
    corners = corners[~np.isnan(corners[:, 0])]
    assert len(corners) == 4
    assert Polygon(corners).area == pytest.approx(4.0)


def test_many_at_once():
    normals = np.array([[1.0, 0], [-1, 0], [0, 1], [0, -1]])
    points = np.array([[3.0, 0.0], [0.0, 0.0], [np.nan, 0.0]])
    found = nearest_point(normals, np.ones((3, 4)), points)
    np.testing.assert_allclose(found, [[1.0, 0.0], [0.0, 0.0], [np.nan, 0.0]])
    assert polygon_corners(normals, np.ones((2, 3, 4))).shape == (2, 3, 4, 2)
