"""Convex polygons given as half-planes: their corners, and the point of one that is nearest to another point."""

import numpy as np

__all__ = ["nearest_point", "polygon_corners"]

CLOSE = 1e-9  # mm; a point this little outside is on the border, an edge this short is a corner


def _border(normals, offsets):
    """Foot of the origin on each border line, NaN where there is none, and its direction, the polygon on its left."""
    foot = normals * np.where(np.isfinite(offsets), offsets, np.nan)[..., None]
    return foot, np.stack([-normals[..., 1], normals[..., 0]], axis=-1)


def _piece(foot, along, normals, offsets):
    """Both ends, along each of some lines, of the piece that keeps all half-planes; NaN where there is none."""
    crossed = np.swapaxes(normals, -1, -2)
    slope = along @ crossed
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        room = offsets[..., None, :] - foot @ crossed
        meets = room / slope
    level = np.abs(slope) < 1e-12
    start = np.where((slope < 0) & ~level, meets, -np.inf).max(axis=-1)
    end = np.where((slope > 0) & ~level, meets, np.inf).min(axis=-1)
    gone = (level & (room < -CLOSE)).any(axis=-1) | ~(end - start >= -CLOSE)
    return np.where(gone, np.nan, start), np.where(gone, np.nan, np.maximum(end, start))


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
    foot, along = _border(normals, offsets)
    start, end = _piece(foot, along, normals, offsets)
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

    The point itself where it keeps all half-planes. Otherwise the answer lies on the border line of a half-plane that
    the point does not keep (were all that hold there kept, moving towards the point would stay inside): the nearest
    point of the nearest of those edges. Derived.

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
    shape = np.broadcast_shapes(offsets.shape[:-1], point.shape[:-1])
    lines = offsets.shape[-1]
    goal = np.broadcast_to(point, (*shape, 2)).reshape(-1, 2)
    sides = np.broadcast_to(normals, (*shape, lines, 2)).reshape(-1, lines, 2)
    limits = np.broadcast_to(offsets, (*shape, lines)).reshape(-1, lines)
    answer = np.array(goal)
    one, line = np.nonzero((sides @ goal[..., None])[..., 0] > limits)
    if one.size:
        foot, along = _border(sides[one, line], limits[one, line])
        start, end = _piece(foot[:, None], along[:, None], sides[one], limits[one])
        place = ((goal[one] - foot) * along).sum(axis=-1)
        on_edge = foot + np.clip(place, start[:, 0], end[:, 0])[:, None] * along
        apart = np.hypot(*(on_edge - goal[one]).T)
        # Sorted by problem, then by distance, NaN last: the first of each problem is its answer.
        order = np.lexsort((apart, one))
        sorted_ = one[order]
        first = np.ones(len(order), dtype=bool)
        first[1:] = sorted_[1:] != sorted_[:-1]
        answer[sorted_[first]] = on_edge[order[first]]
    return answer.reshape(*shape, 2)
