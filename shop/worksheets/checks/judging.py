"""From a value with its uncertainty to a verdict, and to the gauge that would settle a close one."""

import math
from dataclasses import dataclass

from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE, TOO_CLOSE
from shop.worksheets.gauges import finer_than, gauge_for
from shop.worksheets.uncertainty import expanded, standard, verdict_of


@dataclass(frozen=True)
class Source:
    """A reading that a value rests on: its field, its gauge, and how much of the value's uncertainty is its."""

    field: object
    gauge: object
    share: float  # standard uncertainty that this reading brings into the value, in the value's unit


@dataclass(frozen=True)
class Judged:
    verdict: str
    value: float
    spread: float  # expanded uncertainty
    low: float | None
    high: float | None
    settle: str

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
        return self.verdict == IN_RANGE

    @property
    def is_out(self):
        return self.verdict == OUT_OF_RANGE


def source_of(sheet, key, string=None, *, slope=1.0):
    """The reading of `key` as a source of uncertainty; `slope` is d value / d reading."""
    reading = sheet.now(key, string)
    field = sheet.family.any_field(key)
    if reading is None or field is None:
        return None
    gauge = gauge_for(reading.gauge, field)
    return Source(field, gauge, abs(slope) * standard(gauge.resolution)) if gauge else None


def judge(value, low, high, sources=()):
    """Judge `value` against its range, given the readings that it rests on."""
    sources = [one for one in sources if one is not None]
    spread = 2.0 * math.sqrt(sum(one.share**2 for one in sources))
    verdict = verdict_of(value, low, high, spread)
    settle = _settle(value, low, high, sources) if verdict == TOO_CLOSE else ""
    return Judged(verdict, value, spread, low, high, settle)


def _settle(value, low, high, sources):
    """Which finer gauge would tell: the coarsest that clears the nearest limit, for the reading that weighs most."""
    margin = min(abs(value - limit) for limit in (low, high) if limit is not None)
    if not sources:
        return ""
    worst = max(sources, key=lambda one: one.share)
    others = sum(one.share**2 for one in sources if one is not worst)
    allowed = (margin / 2.0) ** 2 - others
    slope = worst.share / standard(worst.gauge.resolution) if worst.share else 1.0
    needed = math.sqrt(allowed) * math.sqrt(12.0) / slope if allowed > 0 else 0.0
    finer = finer_than(worst.gauge, worst.field, needed)
    if finer is not None:
        return f"Read {worst.field.label} with the {finer.label}: that settles it."
    best = finer_than(worst.gauge, worst.field, math.inf)
    if best is None or needed == 0.0:
        return "It lies so near its limit that no gauge here can tell: move it a little inside."
    return f"Not even the {best.label} would settle it: move it a little inside."


def spread_of(sheet, key, string=None):
    """Expanded uncertainty of one reading by its gauge; 0 without one."""
    source = source_of(sheet, key, string)
    return expanded(source.gauge.resolution) if source else 0.0
