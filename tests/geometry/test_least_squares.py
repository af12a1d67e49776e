"""Bounded least squares against scipy.optimize.lsq_linear, and its own optimality conditions."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import lsq_linear

from geometry import least_squares
from geometry.errors import GeometryError
from geometry.least_squares import bounded_least_squares


def problems(seed, count, rows, unknowns):
    random = np.random.default_rng(seed)
    matrix = random.normal(size=(count, rows, unknowns))
    low, high = -random.random((count, unknowns)), random.random((count, unknowns))
    return matrix, 3 * random.normal(size=(count, rows)), low, high


@given(st.integers(0, 10**6), st.integers(1, 10))
def test_scipy_agrees(seed, unknowns):
    matrix, target, low, high = problems(seed, 3, 12, unknowns)
    fit = bounded_least_squares(matrix, target, lower=low, upper=high)
    for i in range(3):
        other = lsq_linear(matrix[i], target[i], (low[i], high[i]), method="bvls", tol=1e-14)
        np.testing.assert_allclose(fit.solution[i], other.x, atol=1e-9)


@given(st.integers(0, 10**6), st.integers(2, 9))
def test_the_answer_cannot_be_bettered(seed, unknowns):
    """Kuhn-Tucker: inside the bounds, no slope where free, and the slope pushes outwards where held."""
    matrix, target, low, high = problems(seed, 4, unknowns + 2, unknowns)
    fit = bounded_least_squares(matrix, target, lower=low, upper=high)
    assert (fit.solution >= low).all()
    assert (fit.solution <= high).all()
    pull = np.einsum("prk,pr->pk", matrix, fit.residual)
    assert np.abs(np.where(fit.at_bound == 0, pull, 0.0)).max() < 1e-8
    assert (pull * fit.at_bound >= -1e-8).all()


@given(st.integers(0, 10**6), st.integers(2, 9))
def test_one_at_a_time_finds_the_same(seed, unknowns):
    """The slow way, kept for problems on which the quick exchange does not settle."""
    matrix, target, low, high = problems(seed, 1, 12, unknowns)
    square, slope = matrix[0].T @ matrix[0], matrix[0].T @ target[0]
    slow, _ = least_squares._single_steps(square, slope, low[0], high[0])
    fit = bounded_least_squares(matrix[0], target[0], lower=low[0], upper=high[0])
    np.testing.assert_allclose(slow, fit.solution, atol=1e-9)


def test_where_the_exchange_does_not_settle_the_slow_way_steps_in(monkeypatch):
    matrix, target, low, high = problems(1, 6, 12, 5)
    wanted = bounded_least_squares(matrix, target, lower=low, upper=high)
    flip = iter(np.tile([1, -1], 100))
    monkeypatch.setattr(least_squares, "_exchange", lambda square, *_: np.full(square.shape[:-1], next(flip), np.int8))
    fit = bounded_least_squares(matrix, target, lower=low, upper=high)
    np.testing.assert_allclose(fit.solution, wanted.solution, atol=1e-9)


def test_no_silent_failure(monkeypatch):
    monkeypatch.setattr(least_squares, "MOST_ROUNDS", 0)
    with pytest.raises(GeometryError, match="settles within 0 rounds"):
        least_squares._single_steps(np.eye(2), np.ones(2), np.zeros(2), np.ones(2))


def test_without_bounds_it_is_plain_least_squares():
    matrix, target, _, _ = problems(5, 2, 8, 3)
    fit = bounded_least_squares(matrix, target)
    for i in range(2):
        np.testing.assert_allclose(fit.solution[i], np.linalg.lstsq(matrix[i], target[i], rcond=None)[0], atol=1e-10)


def test_rows_that_leave_it_open_get_the_shortest_answer():
    fit = bounded_least_squares([[1.0, 1.0]], [2.0])
    np.testing.assert_allclose(fit.solution, [1.0, 1.0], atol=1e-12)


def test_weights_count_and_missing_rows_do_not():
    matrix = np.ones((3, 1))
    assert bounded_least_squares(matrix, [0.0, 3.0, np.nan], weights=[1.0, 2.0, 5.0]).solution[0] == pytest.approx(2.0)
    fit = bounded_least_squares(matrix, [1.0, np.nan, 2.0], weights=[1.0, 1.0, np.nan])
    assert fit.solution[0] == pytest.approx(1.0)
    assert np.isnan(fit.residual).tolist() == [False, True, True]


def test_nothing_to_fit_is_nan():
    assert np.isnan(bounded_least_squares(np.ones((2, 1)), [np.nan, np.nan]).solution).all()


def test_equal_bounds_hold_an_unknown():
    fit = bounded_least_squares(np.eye(2), [3.0, 3.0], lower=[0.0, -5.0], upper=[0.0, 5.0])
    np.testing.assert_allclose(fit.solution, [0.0, 3.0], atol=1e-12)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"lower": [1.0, 0.0], "upper": [0.0, 1.0]}, "lower"), ({"weights": [-1.0, 1.0]}, "weights"),
        ({"lower": [np.nan, 0.0]}, "lower"), ({"matrix": np.ones((3, 2))}, "matrix"),
        ({"matrix": [[np.inf, 0], [0, 1]]}, "finite"),
    ],
)  # fmt: skip
def test_bad_arguments(changes, message):
    given_ = {"matrix": np.eye(2), "target": [1.0, 1.0]} | changes
    with pytest.raises(GeometryError, match=message):
        bounded_least_squares(given_.pop("matrix"), given_.pop("target"), **given_)


def test_arguments_are_left_alone():
    matrix, target, low, high = problems(3, 2, 6, 2)
    for one in (matrix, target, low, high):
        one.flags.writeable = False
    bounded_least_squares(matrix, target, lower=low, upper=high)
