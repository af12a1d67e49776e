"""Resolution, decision rules and probability of conformance against published rules and examples."""

import numpy as np
import pytest
from scipy.stats import norm

from geometry.uncertainty import (
    GUARD_FACTORS,
    Verdict,
    conformance_probability,
    expanded_uncertainty,
    judge,
    standard_uncertainty,
)

# Table of decision rules in ILAC-G8:09/2019, as quoted in a calibration body's requirements: guard band over U, and the
# specific risk it leaves; computed, the normal distribution's tail there.
RULES = [
    ("six_sigma", 3.0, 1e-6, 9.9e-10), ("three_sigma", 1.5, 0.0016, 0.00135), ("full", 1.0, 0.025, 0.02275),
    ("iso_14253", 0.83, 0.05, 0.0485), ("simple", 0.0, 0.5, 0.5),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "factor", "stated", "tail"), RULES)
def test_risk_at_the_acceptance_limit(rule, factor, stated, tail):
    """A reading just inside the guard band is accepted, and its risk of not conforming is below the stated one."""
    assert GUARD_FACTORS[rule] == factor
    standard, high = 0.02, 2.0
    reading = high - factor * expanded_uncertainty(standard)
    found = judge(reading - 1e-9, low=np.nan, high=high, standard=standard, rule=rule)
    assert found.verdict == Verdict.IN_RANGE
    risk = 1.0 - conformance_probability(reading, low=np.nan, high=high, standard=standard)
    assert risk <= stated
    assert risk == pytest.approx(tail, rel=0.01)
    if factor:
        just_outside = judge(reading + 1e-6, low=np.nan, high=high, standard=standard, rule=rule)
        assert just_outside.verdict == Verdict.TOO_CLOSE


def test_three_way_rule():
    """ISO 14253-1, as quoted in a calibration procedure: conforming, not conforming, and undecided between."""
    readings = [1.70, 1.62, 1.60, 1.58, 1.50]
    found = judge(readings, low=1.6, high=2.1, standard=0.02)
    assert [Verdict(one) for one in found.verdict] == [
        Verdict.IN_RANGE, Verdict.TOO_CLOSE, Verdict.TOO_CLOSE, Verdict.TOO_CLOSE, Verdict.OUT_OF_RANGE,
    ]  # fmt: skip


@pytest.mark.parametrize(("resolution", "standard"), [(0.05, 0.0144338), (0.01, 0.00288675), (0.5, 0.144338)])
def test_rectangular_distribution(resolution, standard):
    """GUM (JCGM 100:2008) 4.3.7, from memory: resolution over the root of twelve."""
    assert standard_uncertainty(resolution) == pytest.approx(standard, rel=5e-6)


def test_examples_of_conformance():
    """JCGM 106:2012, from memory, arithmetic confirmed: breakdown voltage 0.92, viscosity of oil 0.66."""
    assert conformance_probability(-5.47, low=np.nan, high=-5.40, standard=0.05) == pytest.approx(0.92, abs=0.005)
    assert conformance_probability(13.6, low=12.5, high=16.3, standard=1.8) == pytest.approx(0.66, abs=0.005)


@pytest.mark.parametrize("chance", [0.80, 0.90, 0.95, 0.99, 0.999])
def test_one_sided_quantiles(chance):
    """JCGM 106:2012, 7.3, tabulates these (its existence quoted in a software's manual); the quantiles are scipy's."""
    found = conformance_probability(0.0, low=np.nan, high=norm.ppf(chance), standard=1.0)
    assert found == pytest.approx(chance, rel=1e-12)
