"""Verdicts, probabilities and guard bands."""

import math

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from geometry.errors import GeometryError
from geometry.uncertainty import (
    GUARD_FACTORS,
    Verdict,
    conformance_probability,
    expanded_uncertainty,
    judge,
    resolution_needed,
    standard_uncertainty,
)

NAN = float("nan")


def verdict(value, low, high, standard, rule="full"):
    return Verdict(judge(value, low=low, high=high, standard=standard, rule=rule).verdict)


def test_resolution_to_uncertainty_is_the_spread_of_a_rectangle():
    """GUM 4.3.7 (from memory): a/√12; second opinion, the standard deviation of many evenly spread values."""
    assert standard_uncertainty(0.05) == pytest.approx(np.std(np.linspace(-0.025, 0.025, 200_001)), rel=1e-4)
    assert expanded_uncertainty(standard_uncertainty(0.5)) == pytest.approx(0.2886751, abs=1e-7)


@pytest.mark.parametrize(
    ("value", "low", "high", "said"),
    [
        (1.0, 0.5, 1.5, "IN_RANGE"), (0.71, 0.5, 1.5, "IN_RANGE"), (0.65, 0.5, 1.5, "TOO_CLOSE"),
        (0.35, 0.5, 1.5, "TOO_CLOSE"), (0.2, 0.5, 1.5, "OUT_OF_RANGE"), (1.29, 0.5, 1.5, "IN_RANGE"),
        (1.4, 0.5, 1.5, "TOO_CLOSE"), (1.75, 0.5, 1.5, "OUT_OF_RANGE"),
        (9.0, 0.5, NAN, "IN_RANGE"), (0.4, 0.5, NAN, "TOO_CLOSE"), (-9.0, NAN, 1.5, "IN_RANGE"),
        (-9.0, -math.inf, 1.5, "IN_RANGE"), (2.0, NAN, 1.5, "OUT_OF_RANGE"),
        (NAN, 0.5, 1.5, "UNKNOWN"), (1.0, NAN, NAN, "UNKNOWN"), (1.0, -math.inf, math.inf, "UNKNOWN"),
        (1.0, 0.95, 1.05, "TOO_CLOSE"),
    ],
)  # fmt: skip
def test_verdicts(value, low, high, said):
    assert verdict(value, low, high, 0.1).name == said


def test_exact_readings_are_in_or_out():
    assert verdict(1.5, 0.5, 1.5, 0.0) is Verdict.IN_RANGE
    assert verdict(1.5000001, 0.5, 1.5, 0.0) is Verdict.OUT_OF_RANGE


def test_an_unknown_uncertainty_decides_nothing():
    assert verdict(1.0, 0.5, 1.5, NAN) is Verdict.UNKNOWN


@given(st.floats(-5, 5), st.floats(-5, 5), st.floats(0, 5), st.floats(0, 2), st.sampled_from(sorted(GUARD_FACTORS)))
def test_the_rule_in_its_own_words(value, low, width, standard, rule):
    high, band = low + width, 2.0 * GUARD_FACTORS[rule] * standard
    said = verdict(value, low, high, standard, rule)
    inside, outside = min(value - low, high - value), max(low - value, value - high)
    # On the very edge of the band rounding decides.
    if abs(inside - band) > 1e-9 and abs(outside - band) > 1e-9:
        expected = Verdict.IN_RANGE if inside > band else Verdict.OUT_OF_RANGE if outside > band else Verdict.TOO_CLOSE
        assert said is expected


@given(st.floats(-3, 3), st.floats(-3, 3), st.floats(0.01, 3), st.floats(0.01, 2))
def test_scipy_agrees_on_the_probability(value, low, width, standard):
    ours = conformance_probability(value, low=low, high=low + width, standard=standard)
    theirs = norm.cdf((low + width - value) / standard) - norm.cdf((low - value) / standard)
    assert ours == pytest.approx(theirs, abs=1e-12)


def test_mpmath_agrees_far_out_in_the_tail():
    with mpmath.workdps(40):
        for far in (1.0, 4.0, 7.5, 8.2):
            exact = float(1 - mpmath.ncdf(far))
            assert 1 - conformance_probability(far, low=0.0, high=NAN, standard=1.0) == pytest.approx(exact, abs=2e-16)


def test_probability_without_uncertainty():
    found = conformance_probability([0.0, 1.0, 1.5, NAN], low=0.0, high=1.0, standard=0.0)
    np.testing.assert_array_equal(found, [1.0, 1.0, 0.0, np.nan])


@pytest.mark.parametrize(("rule", "risk"), [("six_sigma", 1e-6), ("three_sigma", 0.0016), ("full", 0.025),
                                            ("iso_14253", 0.05), ("simple", 0.5)])  # fmt: skip
def test_risk_at_the_edge_of_the_guard_band(rule, risk):
    """Specific risks of the ILAC-G8:09/2019 table (read as quoted in a calibration body's requirements)."""
    edge = 1.0 - 2.0 * GUARD_FACTORS[rule] * 0.1
    assert 1.0 - conformance_probability(edge, low=NAN, high=1.0, standard=0.1) <= risk + 1e-12
    assert verdict(edge - 1e-9, NAN, 1.0, 0.1, rule) is Verdict.IN_RANGE


@given(st.floats(-2, 2), st.sampled_from(["full", "iso_14253"]))
def test_the_gauge_advised_settles_it(value, rule):
    needed = resolution_needed(value, low=-1.0, high=1.0, rule=rule)
    if needed > 1e-6:
        assert verdict(value, -1.0, 1.0, standard_uncertainty(0.999 * needed), rule) is not Verdict.TOO_CLOSE
        assert verdict(value, -1.0, 1.0, standard_uncertainty(1.001 * needed), rule) is Verdict.TOO_CLOSE


def test_limits_the_wrong_way_round_are_refused():
    with pytest.raises(GeometryError, match="at most high"):
        judge(1.0, low=2.0, high=1.0, standard=0.1)


def test_shapes():
    found = judge(np.ones((3, 6)), low=np.zeros(6), high=np.array([[2.0]] * 3), standard=0.1)
    assert found.verdict.shape == found.margin.shape == found.probability.shape == (3, 6)
