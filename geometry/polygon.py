"""Convex polygons given as half-planes: their corners, and the point of one that is nearest to another point."""

import numpy as np

__all__ = ["nearest_point", "polygon_corners"]

CLOSE = 1e-9  # mm; a point this little outside is on the border, an edge this short is a corner


def _edges(normals, offsets):
    """Piece of each border line that keeps all half-planes: foot of the origin, direction, and both ends along it.

    An end is NaN where the line has no such piece. The direction has the polygon on its left.
    """
    foot = normals * np.where(np.isfinite(offsets), offsets, np.nan)[..., None]
    along = np.stack([-normals[..., 1], normals[..., 0]], axis=-1)
    crossed = np.swapaxes(normals, -1, -2)
    slope = along @ crossed
    with np.errstate(invalid="ignore", divide="ignore"):
        room = offsets[..., None, :] - foot @ crossed
        meets = room / slope
    level = np.abs(slope) < 1e-12
    start = np.where((slope < 0) & ~level, meets, -np.inf).max(axis=-1)
    end = np.where((slope > 0) & ~level, meets, np.inf).min(axis=-1)
    gone = (level & (room < -CLOSE)).any(axis=-1) | ~(end - start >= -CLOSE)
    start = np.where(gone, np.nan, start)
    return foot, along, start, np.where(gone, np.nan, np.maximum(end, start))


def polygon_corners(normals, offsets):
    """Corners of the bounded polygon ``normals · p ≤ offsets``.

    Each border line is cut to the piece that keeps all the other half-planes; the pieces in the order of their normals
    run round the polygon. Derived.

    Parameters
    ----------
    normals : numpy.ndarray
        Shape (..., lines, 2), outwards, of unit length.
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
    foot, along, start, end = _edges(normals, offsets)
    edge = end - start > CLOSE
    # A polygon that is a single point has no edge: the first line that touches it stands for it.
    single = ~edge.any(axis=-1) & ~np.isnan(start).all(axis=-1)
    first = np.argmax(~np.isnan(start), axis=-1)
    edge |= single[..., None] & (np.arange(start.shape[-1]) == first[..., None])
    corners = np.where(edge[..., None], foot + start[..., None] * along, np.nan) + 0.0
    turn = np.where(edge, np.arctan2(normals[..., 1], normals[..., 0]), np.nan)
    # Two lines that coincide give one edge; sorting puts NaN last and equal normals side by side.
    order = np.argsort(turn, axis=-1)
    corners, turn = np.take_along_axis(corners, order[..., None], axis=-2), np.take_along_axis(turn, order, axis=-1)
    again = np.zeros(turn.shape, dtype=bool)
    again[..., 1:] = np.abs(turn[..., 1:] - turn[..., :-1]) < 1e-12
    last = np.argsort(again | np.isnan(turn), axis=-1, kind="stable")[..., None]
    return np.take_along_axis(np.where(again[..., None], np.nan, corners), last, axis=-2)


def nearest_point(normals, offsets, point):
    """The point of the polygon ``normals · p ≤ offsets`` that is nearest to a given one.

    The point itself where it keeps all half-planes, otherwise the nearest point of the nearest edge. Derived.

    Parameters
    ----------
    normals : numpy.ndarray
        Shape (..., lines, 2), outwards, of unit length.
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
    foot, along, start, end = _edges(normals, offsets)
    place = ((point[..., None, :] - foot) * along).sum(axis=-1)
    on_edge = foot + np.clip(place, start, end)[..., None] * along
    apart = np.hypot(*np.moveaxis(on_edge - point[..., None, :], -1, 0))
    apart = np.where(np.isnan(apart), np.inf, apart)
    best = np.argmin(apart, axis=-1)[..., None, None]
    found = np.take_along_axis(on_edge, best, axis=-2)[..., 0, :]
    inside = ((normals @ point[..., None])[..., 0] <= offsets).all(axis=-1)[..., None]
    return np.where(inside, point, np.where(np.isinf(apart.min(axis=-1))[..., None], np.nan, found))
