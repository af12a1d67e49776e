"""How far a reading can be trusted, and what may be concluded from it."""

import math
from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from geometry.errors import GeometryError, as_not_negative, as_numbers, as_option, as_positive
from geometry.normal import upper_tail

__all__ = [
    "COVERAGE", "GUARD_FACTORS", "Judgement", "Verdict", "conformance_probability", "expanded_uncertainty", "judge",
    "resolution_needed", "standard_uncertainty",
]  # fmt: skip

COVERAGE = 2.0  # about 95 % of a normal distribution

# Width of the guard band as a multiple of the expanded uncertainty (k = 2), by decision rule. Source: table of rules
# in ILAC-G8:09/2019, as quoted in a calibration body's requirements; 0.83 is ISO 14253-1:2017 (risk below 5 %).
GUARD_FACTORS = {"full": 1.0, "iso_14253": 0.83, "simple": 0.0, "three_sigma": 1.5, "six_sigma": 3.0}


class Verdict(IntEnum):
    """What a reading shows about its limits; −1 stands for a missing reading or no limit at all."""

    UNKNOWN = -1
    OUT_OF_RANGE = 0
    TOO_CLOSE = 1
    IN_RANGE = 2


TOO_CLOSE, UNKNOWN = Verdict.TOO_CLOSE.value, Verdict.UNKNOWN.value


@dataclass(frozen=True)
class Judgement:
    """Readings held against their limits; see `judge`.

    Attributes
    ----------
    verdict : numpy.ndarray
        `Verdict` values as integers.
    margin : numpy.ndarray
        Distance inside the nearer limit; negative by how much the reading is past it; NaN without limits.
    probability : numpy.ndarray
        That the true value conforms; NaN where the reading is missing or without limits.
    """

    verdict: np.ndarray
    margin: np.ndarray
    probability: np.ndarray


def standard_uncertainty(resolution):
    """Standard uncertainty of a reading from its gauge's resolution, ``a/√12``. Elementwise.

    Source: GUM (JCGM 100:2008) 4.3.7, a rectangular distribution one step wide.

    Parameters
    ----------
    resolution : array_like
        Step in which the gauge is read, 0 or more, in the reading's unit.

    Returns
    -------
    numpy.ndarray or float
        In the reading's unit; NaN where the resolution is NaN.

    Examples
    --------
    >>> float(standard_uncertainty(0.05).round(7))
    0.0144338
    """
    return as_not_negative("resolution", resolution) / math.sqrt(12.0)


def expanded_uncertainty(standard, *, coverage=COVERAGE):
    """Expanded uncertainty ``U = k·u``. Elementwise.

    Source: GUM (JCGM 100:2008) 6.2.1.

    NaN where the standard uncertainty is NaN.

    Parameters
    ----------
    standard : array_like
        Standard uncertainty, 0 or more.
    coverage : float
        Factor k, above 0.

    Returns
    -------
    numpy.ndarray or float
        In the same unit.

    Examples
    --------
    >>> float(expanded_uncertainty(0.01))
    0.02
    """
    return as_positive("coverage", coverage) * as_not_negative("standard", standard)


def judge(value, *, low, high, standard, rule="full"):
    """Hold readings against limits on one side or both. Elementwise.

    In range only where the value clears every limit by the guard band, out of range where it is past a limit by
    more than the guard band, otherwise too close to call. Source: decision rule of ISO 14253-1, its guard band being
    U (rule 'full') or 0.83 U ('iso_14253'); other rules as `GUARD_FACTORS`.

    Parameters
    ----------
    value : array_like
        Reading; NaN where missing.
    low, high : array_like
        Limits; NaN or infinite for none on that side; `low` at most `high`.
    standard : array_like
        Standard uncertainty, 0 or more.
    rule : str
        One of `GUARD_FACTORS`.

    Returns
    -------
    Judgement
        Verdict, margin and probability.

    Examples
    --------
    >>> found = judge([1.80, 1.62, 1.5, np.nan], low=1.6, high=2.1, standard=0.0144)
    >>> [Verdict(one).name for one in found.verdict]
    ['IN_RANGE', 'TOO_CLOSE', 'OUT_OF_RANGE', 'UNKNOWN']
    >>> found.margin.round(3).tolist()
    [0.2, 0.02, -0.1, nan]
    """
    value, low, high = (as_numbers(name, one) for name, one in (("value", value), ("low", low), ("high", high)))
    if np.count_nonzero(low > high):
        raise GeometryError("low", low.tolist(), "at most high")
    spread = as_not_negative("standard", standard)
    band = COVERAGE * GUARD_FACTORS[as_option("rule", rule, GUARD_FACTORS)] * spread
    below, above = value - low, high - value
    margin = np.fmin(below, above)
    margin = np.where(np.isinf(margin), np.nan, margin)
    # One step up or down from too close.
    verdict = TOO_CLOSE + (margin >= band) - (margin < -band)
    verdict = np.where(np.isnan(margin + band), UNKNOWN, verdict)
    chance = np.where(np.isnan(margin + spread), np.nan, _conforming(below, above, spread))
    return Judgement(verdict, margin[()], chance[()])


def conformance_probability(value, *, low, high, standard):
    """Probability that the true value lies within the limits, given the reading. Elementwise.

    ``Φ((high − y)/u) − Φ((low − y)/u)``. Source: JCGM 106:2012, normal distribution, no prior knowledge.

    Parameters
    ----------
    value : array_like
        Reading; NaN where missing.
    low, high : array_like
        Limits; NaN or infinite for none on that side.
    standard : array_like
        Standard uncertainty, 0 or more; at 0 the answer is 0 or 1.

    Returns
    -------
    numpy.ndarray or float
        From 0 to 1; NaN where the reading or its uncertainty is missing.

    Examples
    --------
    >>> float(conformance_probability(-5.47, low=np.nan, high=-5.40, standard=0.05).round(4))
    0.9192
    """
    value, spread = as_numbers("value", value), as_not_negative("standard", standard)
    low, high = as_numbers("low", low), as_numbers("high", high)
    chance = _conforming(value - low, high - value, spread)
    return np.where(np.isnan(value + spread), np.nan, chance)[()]


def _conforming(below, above, spread):
    """Probability from the distances inside the two limits, NaN where there is no limit.

    Without uncertainty the quotients are infinite, and NaN exactly on a limit: that conforms, since limits belong to
    the range. So NaN stands for infinitely far inside either way.
    """
    deviations = np.empty((2, *np.broadcast_shapes(below.shape, above.shape, spread.shape)))
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        np.divide(below, spread, out=deviations[0, ...])
        np.divide(above, spread, out=deviations[1, ...])
    deviations[np.isnan(deviations)] = np.inf
    # Two upper tails taken from 1: keeps its digits where the reading is near either limit.
    tails = upper_tail(deviations)
    return np.minimum(np.maximum(1.0 - tails[0] - tails[1], 0.0), 1.0)


def resolution_needed(value, *, low, high, rule="full"):
    """Coarsest gauge resolution that would settle a reading that is too close to call. Elementwise.

    The guard band may then be no wider than the margin: ``|margin|·√12/(2·g)`` with g from `GUARD_FACTORS`. Derived.

    Parameters
    ----------
    value : array_like
        Reading; NaN where missing.
    low, high : array_like
        Limits; NaN or infinite for none on that side.
    rule : str
        One of `GUARD_FACTORS` but 'simple'.

    Returns
    -------
    numpy.ndarray or float
        Resolution in the reading's unit, 0 where the reading lies on a limit; NaN without reading or limits.

    Examples
    --------
    >>> float(resolution_needed(1.62, low=1.6, high=2.1).round(4))
    0.0346
    """
    guard = GUARD_FACTORS[as_option("rule", rule, [name for name, factor in GUARD_FACTORS.items() if factor])]
    margin = np.abs(judge(value, low=low, high=high, standard=0.0).margin)
    return margin * math.sqrt(12.0) / (COVERAGE * guard)
