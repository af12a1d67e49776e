"""Linear least squares within bounds, for a handful of unknowns and any number of problems at once."""

from dataclasses import dataclass

import numpy as np

from geometry.errors import GeometryError, as_not_negative, as_numbers

__all__ = ["BoundedFit", "bounded_least_squares"]

MOST_ROUNDS = 200
TINY = 1e-12


@dataclass(frozen=True)
class BoundedFit:
    """A fit; see `bounded_least_squares`.

    Attributes
    ----------
    solution : numpy.ndarray
        Shape (..., unknowns); NaN where no row is left.
    residual : numpy.ndarray
        Shape (..., rows): target less what the solution reaches; NaN where the row was left out.
    at_bound : numpy.ndarray
        Shape (..., unknowns): −1 held at the lower bound, 1 at the upper, 0 free.
    """

    solution: np.ndarray
    residual: np.ndarray
    at_bound: np.ndarray


def bounded_least_squares(matrix, target, *, lower=None, upper=None, weights=None):
    """Least squares ``min Σ w·(target − matrix·x)²`` with ``lower ≤ x ≤ upper``.

    Active sets: the unknowns held at bounds are found by primal-dual exchange for all problems together, and one
    unknown at a time for the few problems where that does not settle; the answer satisfies the Kuhn-Tucker
    conditions or an error is raised. Where rows leave unknowns open the shortest solution is taken. Source, from
    memory: Hintermüller and others, SIAM J. Optim. 13 (2002) 865 (exchange); Stark & Parker, Comput. Stat. 10 (1995)
    129 (single steps).

    Parameters
    ----------
    matrix : array_like
        Shape (..., rows, unknowns); finite.
    target : array_like
        Shape (..., rows); NaN leaves the row out.
    lower, upper : array_like, optional
        Shape (..., unknowns): bounds, −inf or inf for none.
    weights : array_like, optional
        Shape (..., rows), 0 or more; 1 if not given, NaN leaves the row out.

    Returns
    -------
    BoundedFit
        Solution, residual and which bounds hold.

    Examples
    --------
    >>> fit = bounded_least_squares([[1.0, 0.0], [0.0, 1.0]], [3.0, -1.0], lower=[0, 0], upper=[2, 2])
    >>> fit.solution.tolist(), fit.residual.tolist(), fit.at_bound.tolist()
    ([2.0, 0.0], [1.0, -1.0], [1, -1])
    """
    rows, goal, low, high, weight = _checked(matrix, target, lower, upper, weights)
    batch = np.broadcast_shapes(rows.shape[:-2], goal.shape[:-1], low.shape[:-1], weight.shape[:-1])
    count, unknowns = rows.shape[-2:]
    goal = np.broadcast_to(goal, (*batch, count))
    weight = np.broadcast_to(weight, (*batch, count))
    used = np.isfinite(goal) & (weight > 0)
    weight = np.where(used, weight, 0.0)
    weighted = rows * weight[..., None]
    square = np.swapaxes(weighted, -1, -2) @ rows
    slope = (np.swapaxes(weighted, -1, -2) @ np.where(used, goal, 0.0)[..., None])[..., 0]
    shape = (-1, unknowns)
    low, high = (np.broadcast_to(one, (*batch, unknowns)).reshape(shape) for one in (low, high))
    solution, held = _settle(square.reshape(-1, unknowns, unknowns), slope.reshape(shape), low, high)
    solution, held = solution.reshape(*batch, unknowns), held.reshape(*batch, unknowns)
    solution = np.where(used.any(axis=-1, keepdims=True), solution, np.nan)
    residual = np.where(used, goal - (rows @ solution[..., None])[..., 0], np.nan)
    return BoundedFit(solution, residual, held)


def _checked(matrix, target, lower, upper, weights):
    rows, goal = as_numbers("matrix", matrix), as_numbers("target", target, strings=True)
    if rows.ndim < 2 or rows.shape[-2] != goal.shape[-1]:
        raise GeometryError("matrix", rows.shape, f"shaped (..., {goal.shape[-1]}, unknowns)")
    if not np.isfinite(rows).all():
        raise GeometryError("matrix", rows.tolist(), "finite")
    weight = as_not_negative("weights", 1.0 if weights is None else weights)
    low = as_numbers("lower", -np.inf if lower is None else lower)
    high = as_numbers("upper", np.inf if upper is None else upper)
    low, high = np.broadcast_arrays(low, high, np.zeros(rows.shape[-1]))[:2]
    if not (low <= high).all():
        raise GeometryError("lower", low.tolist(), "a number at most upper")
    return rows, goal, low, high, np.broadcast_to(weight, np.broadcast_shapes(weight.shape, goal.shape))


def _settle(square, slope, low, high):
    """Solve every problem of the batch; exchange first, single steps for those that do not settle."""
    held = np.zeros(low.shape, dtype=np.int8)
    solution = _free_solution(square, slope, held, low, high)
    if not (np.isfinite(low).any() or np.isfinite(high).any()):
        return solution, held
    open_ = np.arange(len(low))
    for _ in range(10):
        wanted = _exchange(square[open_], slope[open_], solution[open_], held[open_], low[open_], high[open_])
        moved = (wanted != held[open_]).any(axis=-1)
        open_, wanted = open_[moved], wanted[moved]
        if not len(open_):
            return np.clip(solution, low, high), held
        held[open_] = wanted
        solution[open_] = _free_solution(square[open_], slope[open_], wanted, low[open_], high[open_])
    for one in open_:
        solution[one], held[one] = _single_steps(square[one], slope[one], low[one], high[one])
    return np.clip(solution, low, high), held


def _scale(square):
    return np.maximum(np.abs(square).max(axis=(-2, -1)), 1e-300)[:, None]


def _exchange(square, slope, solution, held, low, high):
    """Bounds each unknown ought to be held at: where a free one is past, and where a held one does not pull back."""
    pull = (slope - (square @ solution[..., None])[..., 0]) / _scale(square)
    slack = TINY * (1.0 + np.abs(solution))
    fixed = low == high
    at_low = np.where(held == -1, (pull < 0) | fixed, (held == 0) & (solution < low - slack))
    at_high = np.where(held == 1, pull > 0, (held == 0) & (solution > high + slack))
    return at_high.astype(np.int8) - at_low.astype(np.int8)


def _free_solution(square, slope, held, low, high):
    """Minimise over the free unknowns with the held ones at their bounds; shortest where it is open."""
    free = held == 0
    at = np.where(held < 0, low, np.where(held > 0, high, 0.0))
    rest = np.where(free, slope - (square @ at[..., None])[..., 0], 0.0)
    among = square * (free[..., :, None] & free[..., None, :])
    # Columns to one scale, so that the rank is judged fairly when unknowns have different units.
    size = np.sqrt(np.maximum(np.einsum("...ii->...i", among), 0.0))
    size = np.where(size > 0, size, 1.0)
    inverse = np.linalg.pinv(among / (size[..., :, None] * size[..., None, :]), rcond=1e-13, hermitian=True)
    return at + (inverse @ (rest / size)[..., None])[..., 0] / size


def _single_steps(square, slope, low, high):
    """One problem, one exchange at a time: never cycles because each step lowers the sum of squares."""
    held = np.where(np.isfinite(low), -1, np.where(np.isfinite(high), 1, 0)).astype(np.int8)
    point = np.where(held < 0, low, np.where(held > 0, high, 0.0))
    for _ in range(MOST_ROUNDS):
        point, held = _walk(square, slope, low, high, point, held)
        pull = (slope - square @ point) / _scale(square[None])[0]
        gain = np.where((held == 0) | (low == high), 0.0, -held * pull)
        best = int(np.argmax(gain))
        if gain[best] <= TINY * (1.0 + np.abs(point).max()):
            return point, held
        held[best] = 0
    raise GeometryError("matrix", square.tolist(), f"such that the bounded fit settles within {MOST_ROUNDS} rounds")


def _walk(square, slope, low, high, point, held):
    """Move towards the free minimum, holding each unknown at the bound it meets on the way."""
    for _ in range(len(point) + 1):
        goal = _free_solution(square[None], slope[None], held[None], low[None], high[None])[0]
        step = goal - point
        with np.errstate(divide="ignore", invalid="ignore"):
            room = np.where(step > 0, (high - point) / step, np.where(step < 0, (low - point) / step, np.inf))
        room = np.where(held == 0, room, np.inf)
        first = int(np.argmin(room))
        if room[first] >= 1.0:
            return goal, held
        point = np.where(held == 0, point + max(room[first], 0.0) * step, point)
        held = held.copy()
        held[first] = 1 if step[first] > 0 else -1
        point[first] = high[first] if held[first] > 0 else low[first]
    return point, held
