"""Uncertainty carried through functions: three methods, and shapes."""

import numpy as np
import pytest
from hypothesis import given

from geometry.errors import GeometryError
from geometry.propagation import METHODS, propagate
from tests.geometry_cast import between


@pytest.mark.parametrize("method", METHODS)
def test_a_sum_adds_in_quadrature(method):
    found = propagate(lambda a, b: a + 2 * b, {"a": 1.0, "b": 2.0}, {"a": 0.3, "b": 0.2}, method=method, draws=200_000)
    assert found.value == pytest.approx(5.0, abs=0.01)
    assert found.standard == pytest.approx(0.5, rel=0.01)
    assert found.method == method


@given(between(0.5, 3), between(0.5, 3), between(0.001, 0.1), between(0.001, 0.1))
def test_derivatives_are_exact(a, b, u_a, u_b):
    found = propagate(lambda a, b: np.sin(a) * np.exp(b), {"a": a, "b": b}, {"a": u_a, "b": u_b})
    exact = np.hypot(np.cos(a) * np.exp(b) * u_a, np.sin(a) * np.exp(b) * u_b)
    assert found.standard == pytest.approx(exact, rel=1e-6, abs=1e-10)


def test_a_bent_function_moves_its_mean():
    """The square of a normal value: mean x² + u², variance 4x²u² + 2u⁴; sigma points of one argument match both."""
    found = propagate(lambda a: a * a, {"a": 1.0}, {"a": 0.5}, method="unscented")
    assert found.value == pytest.approx(1.25)
    assert found.standard == pytest.approx(np.sqrt(4 * 0.25 + 2 * 0.5**4))


def test_draws_repeat_with_their_seed():
    first, again, other = (
        propagate(lambda a: a, {"a": 0.0}, {"a": 1.0}, method="monte_carlo", seed=seed).standard for seed in (1, 1, 2)
    )
    assert first == again != other


def test_each_string_has_an_error_of_its_own():
    values, spread = {"height": np.ones(4), "shift": 2.0}, {"height": 0.1, "shift": 0.2}
    mean = propagate(lambda height, shift: height.mean(axis=-1) + shift, values, spread, per_string=("height",))
    assert mean.standard == pytest.approx(np.hypot(0.1 / 2, 0.2))


def test_many_problems_and_several_answers():
    values = {"height": np.ones((5, 4)), "shift": np.linspace(0, 1, 5)}
    found = propagate(
        lambda height, shift: {"each": height + shift[..., None], "all": height.sum(axis=-1)}, values,
        {"height": 0.1, "shift": 0.3}, per_string=("height",),
    )  # fmt: skip
    assert found.value["each"].shape == found.standard["each"].shape == (5, 4)
    np.testing.assert_allclose(found.standard["each"], np.hypot(0.1, 0.3), rtol=1e-9)
    np.testing.assert_allclose(found.standard["all"], 0.2, rtol=1e-9)


def test_what_is_missing_is_missing_in_what_depends_on_it():
    found = propagate(lambda a, b: a * b, {"a": [1.0, np.nan], "b": 2.0}, {"a": 0.1, "b": 0.0})
    assert np.isnan(found.standard).tolist() == [False, True]


@pytest.mark.parametrize(
    ("spread", "options", "message"),
    [
        ({"a": 0.1}, {}, "given for each of"), ({"a": 0.1, "b": -1.0}, {}, "0 or more"),
        ({"a": 0.1, "b": 0.1}, {"method": "guess"}, "one of derivative"),
        ({"a": 0.1, "b": 0.1}, {"per_string": ("c",)}, "among"), ({"a": 0.1, "b": 0.1}, {"draws": 1}, "draws"),
    ],
)  # fmt: skip
def test_bad_arguments(spread, options, message):
    with pytest.raises(GeometryError, match=message):
        propagate(lambda a, b: a + b, {"a": 1.0, "b": 2.0}, spread, **options)
