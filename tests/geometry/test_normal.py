"""The normal tail against mpmath at forty digits, and scipy on a grid."""

import mpmath
import numpy as np
import pytest
from hypothesis import given
from scipy.stats import norm

from geometry.normal import upper_tail
from tests.geometry_cast import between


@given(between(-10, 10))
def test_within_rounding_of_the_exact_value(deviations):
    with mpmath.workdps(40):
        exact = float(mpmath.erfc(mpmath.mpf(deviations) / mpmath.sqrt(2)) / 2)
    assert abs(upper_tail(deviations) - exact) <= 2.3e-16


def test_scipy_agrees_everywhere():
    grid = np.linspace(-12, 12, 200_001)
    np.testing.assert_allclose(upper_tail(grid), norm.sf(grid), rtol=0, atol=3e-16)


def test_ends():
    np.testing.assert_array_equal(upper_tail([-np.inf, np.inf, np.nan, 0.0]), [1.0, 0.0, np.nan, 0.5])


@pytest.mark.parametrize("shape", [(), (0,), (3, 4)])
def test_shapes(shape):
    assert upper_tail(np.ones(shape)).shape == shape
