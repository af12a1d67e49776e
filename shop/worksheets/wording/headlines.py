"""The sentence at the head of a finding: what was found, and how it lies to its range."""

from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE


def headline(said, subject, judged, unit, *, gauge=""):
    """'Relief is 0.45 mm: 0.15 mm above its range, between 0.10 and 0.30 mm.'"""
    value = said.value(judged.value, unit)
    wanted = said.range(judged.low, judged.high, unit)
    if judged.low is None and judged.high is None:
        return f"{subject} is {value}; there is no target for it."
    if judged.verdict == IN_RANGE:
        return f"{subject} is {value}: in range, {wanted}."
    if judged.verdict == OUT_OF_RANGE:
        side = "above" if judged.past > 0 else "below"
        return f"{subject} is {value}: {_apart(said, judged.past, unit)} {side} its range, {wanted}."
    with_what = f" with the {gauge}" if gauge else ""
    spread = _apart(said, judged.spread, unit)
    return f"{subject} is {value} ± {spread}: too close to its limit to tell{with_what}. Wanted: {wanted}."


def _apart(said, amount, unit):
    """A difference without its sign."""
    return said.value(abs(amount), unit).lstrip("+")


def of_string(subject, string):
    """'Octave of string 2'."""
    return f"{subject} of string {string}"
