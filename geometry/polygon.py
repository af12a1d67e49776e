"""Convex polygons given as half-planes: their corners, and the point of one that is nearest to another point."""

import numpy as np

__all__ = ["nearest_point", "polygon_corners"]

CLOSE = 1e-9


def _crossings(normals, offsets):
    """Where each pair of border lines crosses; NaN where they run alike or one is no bound."""
    one, other = np.triu_indices(offsets.shape[-1], 1)
    first, second = normals[..., one, :], normals[..., other, :]
    across = first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]
    across = np.where(np.abs(across) > 1e-12, across, np.nan)
    c_one, c_other = offsets[..., one], offsets[..., other]
    with np.errstate(invalid="ignore"):
        x = (c_one * second[..., 1] - c_other * first[..., 1]) / across
        y = (c_other * first[..., 0] - c_one * second[..., 0]) / across
    points = np.stack([x, y], axis=-1)
    return np.where(np.isfinite(points).all(axis=-1, keepdims=True), points, np.nan)


def _kept(points, normals, offsets):
    """Points that keep every half-plane, the others made NaN."""
    over = points @ np.swapaxes(normals, -1, -2) - offsets[..., None, :]
    keeps = (over <= CLOSE * (1.0 + np.abs(points).max(axis=-1, keepdims=True))).all(axis=-1)
    return np.where(keeps[..., None], points, np.nan)


def polygon_corners(normals, offsets):
    """Corners of the polygon ``normals · p ≤ offsets``.

    Every crossing of two border lines that keeps all half-planes is a corner. Derived.

    Parameters
    ----------
    normals : numpy.ndarray
        Shape (..., lines, 2), of unit length.
    offsets : numpy.ndarray
        Shape (..., lines); infinite for a line that is no bound.

    Returns
    -------
    numpy.ndarray
        Shape (..., lines, 2): anticlockwise, filled up with NaN; all NaN for an empty polygon.

    Examples
    --------
    >>> square = polygon_corners(np.array([[1.0, 0], [-1, 0], [0, 1], [0, -1]]), np.array([2.0, 0, 1, 0]))
    >>> square.tolist()
    [[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]]
    """
    points = _kept(_crossings(normals, offsets), normals, offsets)
    lines = offsets.shape[-1]
    count = np.maximum((~np.isnan(points[..., 0])).sum(axis=-1), 1)
    middle = np.nansum(points, axis=-2) / count[..., None]
    away = points - middle[..., None, :]
    angle = np.arctan2(away[..., 1], away[..., 0])
    points = np.take_along_axis(points, np.argsort(angle, axis=-1)[..., None], axis=-2)
    return _compacted(_once(points), lines)


def _once(points):
    """Where three border lines meet, or nearly, one corner stands for all; points run round the polygon."""
    before = np.concatenate([_last(points), points[..., :-1, :]], axis=-2)
    again = (np.abs(points - before) <= CLOSE * 10).all(axis=-1)
    # A polygon that is one single point is all repetition: keep its first.
    single = (again | np.isnan(points[..., 0])).all(axis=-1)
    again[..., 0] &= ~single
    return np.where(again[..., None], np.nan, points) + 0.0


def _last(points):
    """The last point that is none of the filling NaN."""
    index = np.maximum((~np.isnan(points[..., 0])).sum(axis=-1) - 1, 0)[..., None, None]
    return np.take_along_axis(points, np.broadcast_to(index, (*points.shape[:-2], 1, 2)), axis=-2)


def _compacted(points, lines):
    order = np.argsort(np.isnan(points[..., 0]), axis=-1, kind="stable")[..., None]
    points = np.take_along_axis(points, order, axis=-2)[..., :lines, :]
    if points.shape[-2] < lines:
        filling = np.full((*points.shape[:-2], lines - points.shape[-2], 2), np.nan)
        points = np.concatenate([points, filling], axis=-2)
    return points


def nearest_point(normals, offsets, point):
    """The point of the polygon ``normals · p ≤ offsets`` that is nearest to a given one.

    It is the point itself, its foot on a border line, or a corner: the nearest of those that keep all half-planes.
    Derived.

    Parameters
    ----------
    normals : numpy.ndarray
        Shape (..., lines, 2), of unit length.
    offsets : numpy.ndarray
        Shape (..., lines); infinite for a line that is no bound.
    point : numpy.ndarray
        Shape (..., 2).

    Returns
    -------
    numpy.ndarray
        Shape (..., 2); NaN for an empty polygon or a point that is NaN.

    Examples
    --------
    >>> sides = np.array([[1.0, 0], [-1, 0], [0, 1], [0, -1]])
    >>> nearest_point(sides, np.array([2.0, 0, 1, 0]), np.array([3.0, 0.5])).tolist()
    [2.0, 0.5]
    """
    batch = np.broadcast_shapes(offsets.shape[:-1], point.shape[:-1])
    point = np.broadcast_to(point, (*batch, 2))
    normals = np.broadcast_to(normals, (*batch, *normals.shape[-2:]))
    offsets = np.broadcast_to(offsets, (*batch, offsets.shape[-1]))
    over = (normals @ point[..., None])[..., 0] - offsets
    with np.errstate(invalid="ignore"):
        feet = point[..., None, :] - np.where(np.isfinite(over), over, np.nan)[..., None] * normals
    tried = np.concatenate([point[..., None, :], feet, _crossings(normals, offsets)], axis=-2)
    kept = _kept(tried, normals, offsets)
    apart = np.hypot(*np.moveaxis(kept - point[..., None, :], -1, 0))
    apart = np.where(np.isnan(apart), np.inf, apart)
    best = np.argmin(apart, axis=-1)[..., None, None]
    found = np.take_along_axis(kept, np.broadcast_to(best, (*batch, 1, 2)), axis=-2)[..., 0, :]
    return np.where(np.isinf(apart.min(axis=-1))[..., None], np.nan, found)
