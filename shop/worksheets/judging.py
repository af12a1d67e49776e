"""From values with their uncertainty to verdicts, and to the gauge that would settle a close one."""

import math
from dataclasses import dataclass

import numpy as np

from geometry.uncertainty import COVERAGE, Verdict, judge
from shop.worksheets.findings import CANNOT, IN_RANGE, OUT_OF_RANGE, TOO_CLOSE
from shop.worksheets.gauges import finer_than, gauge_for

WORDS = {
    Verdict.IN_RANGE: IN_RANGE, Verdict.OUT_OF_RANGE: OUT_OF_RANGE, Verdict.TOO_CLOSE: TOO_CLOSE,
    Verdict.UNKNOWN: CANNOT,
}  # fmt: skip
ON_THE_LIMIT = "It lies so near its limit that no gauge here can tell: move it a little inside."


@dataclass(frozen=True)
class Source:
    """A reading that a value rests on, and how much of the value's standard uncertainty it brings."""

    field: object
    gauge: object
    share: float


@dataclass(frozen=True)
class Claim:
    """A value to be judged against its range; None is an open end. `sources` are the readings that it rests on."""

    value: float
    low: float | None
    high: float | None
    sources: tuple = ()

    @property
    def standard(self):
        return math.sqrt(sum(one.share**2 for one in self.sources))

    @property
    def has_target(self):
        return self.low is not None or self.high is not None


@dataclass(frozen=True)
class Judged:
    """A claim with its verdict; `spread` is the expanded uncertainty, k = 2. Without a target the verdict is ''."""

    verdict: str
    value: float
    spread: float
    low: float | None
    high: float | None
    settle: str = ""
    gauge: str = ""

    @property
    def past(self):
        """How far the value is outside its range: minus below it, plus above it, 0 inside."""
        if self.low is not None and self.value < self.low:
            return self.value - self.low
        if self.high is not None and self.value > self.high:
            return self.value - self.high
        return 0.0

    @property
    def is_fine(self):
        return self.verdict in (IN_RANGE, "")

    @property
    def goal(self):
        """The middle of the range, its one end when it has only one, None without a range."""
        if self.low is None or self.high is None:
            return self.low if self.high is None else self.high
        return (self.low + self.high) / 2


def source_of(sheet, key, string=None, *, slope=1.0):
    """The reading of `key` as a source of uncertainty; `slope` is d value / d reading. A tuple, empty without one."""
    reading, field = sheet.now(key, string), sheet.family.any_field(key)
    gauge = gauge_for(reading.gauge, field) if reading and field else None
    return (Source(field, gauge, abs(slope) * gauge.standard),) if gauge else ()


def judge_all(claims, *, rule="full"):
    """Judge every claim in one pass over arrays; `rule` is one of geometry's decision rules."""
    if not claims:
        return []
    found = judge(
        [one.value for one in claims], low=_ends(claims, "low"), high=_ends(claims, "high"),
        standard=[one.standard for one in claims], rule=rule,
    )  # fmt: skip
    return [_judged(claim, code) for claim, code in zip(claims, found.verdict.tolist(), strict=True)]


def _ends(claims, side):
    return np.array([getattr(one, side) for one in claims], dtype=float)


def _judged(claim, code):
    verdict = WORDS[code] if claim.has_target else ""
    worst = max(claim.sources, key=lambda one: one.share, default=None)
    settle = _settle(claim, worst) if verdict == TOO_CLOSE and worst else ""
    gauge = worst.gauge.label if worst else ""
    return Judged(verdict, claim.value, COVERAGE * claim.standard, claim.low, claim.high, settle, gauge)


def _settle(claim, worst):
    """The coarsest gauge for the reading that weighs most, that would clear the nearer limit."""
    margin = min(abs(claim.value - limit) for limit in (claim.low, claim.high) if limit is not None)
    allowed = (margin / COVERAGE) ** 2 - (claim.standard**2 - worst.share**2)
    if allowed <= 0.0:
        return ON_THE_LIMIT
    needed = worst.gauge.resolution * math.sqrt(allowed) / worst.share
    finer = finer_than(worst.gauge, worst.field, needed)
    if finer is None:
        return ON_THE_LIMIT
    return f"Read {worst.field.label} with the {finer.label}: that settles it."
