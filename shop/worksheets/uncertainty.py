"""From a gauge's resolution to the uncertainty of a reading, in one place."""

import math

from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE, TOO_CLOSE

COVERAGE = 2.0


def standard(resolution):
    """Standard uncertainty of a reading with a gauge of this resolution: rectangular, resolution / √12."""
    return resolution / math.sqrt(12.0)


def expanded(resolution):
    """Expanded uncertainty, k = 2."""
    return COVERAGE * standard(resolution)


def verdict_of(value, low, high, spread):
    """In range only where the value clears both limits by `spread`, out of range where it is past one by more.

    Decision rule of ISO 14253-1 in its plain form (guard band of one expanded uncertainty on either side).
    """
    if (low is not None and value < low - spread) or (high is not None and value > high + spread):
        return OUT_OF_RANGE
    if (low is None or value >= low + spread) and (high is None or value <= high - spread):
        return IN_RANGE
    return TOO_CLOSE
