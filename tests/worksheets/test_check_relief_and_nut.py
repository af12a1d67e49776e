"""Relief and nut. Limits are those of the profile: common practice, no source."""

import pytest

from shop.worksheets.evaluation import evaluate_sheet
from tests import worksheet_builders as build


def found(key, values, **more):
    return evaluate_sheet(build.sheet(values, **more)).finding(key)


@pytest.mark.parametrize(
    ("value", "verdict", "move"),
    [
        (0.20, "in_range", ""),
        (0.45, "out_of_range", "Tighten the truss rod until the bow is 0.25 mm less."),
        (-0.10, "out_of_range", "Loosen the truss rod until the bow is 0.30 mm more."),
        (0.31, "too_close", "Tighten the truss rod until the bow is 0.11 mm less."),
    ],
)
def test_relief(value, verdict, move):
    finding = found("relief", {"relief": value})
    assert (finding.verdict, finding.move.startswith(move)) == (verdict, True)
    assert bool(finding.move) == bool(move)


def test_relief_says_by_how_much_and_why():
    finding = found("relief", {"relief": 0.45})
    assert finding.headline == "Relief is 0.45 mm: 0.15 mm above its range, between 0.10 and 0.30 mm."
    assert finding.why
    assert (finding.value, finding.low, finding.high, finding.step) == (0.45, 0.10, 0.30, "relief")


def test_a_close_one_names_the_gauge_that_settles_it():
    """Feeler leaves of 0.05: U = 2·0.05/√12 = 0.0289; a dial of 0.01 has 0.0058 (GUM 4.3.7, from memory)."""
    finding = found("relief", {"relief": 0.31}, gauges={"relief": "feeler"})
    assert finding.uncertainty == pytest.approx(0.0288675, abs=1e-6)
    assert finding.settle == "Read relief with the dial gauge: that settles it."
    assert found("relief", {"relief": 0.31}, gauges={"relief": "dial"}).verdict == "out_of_range"


def test_on_the_limit_no_gauge_settles_it():
    assert found("relief", {"relief": 0.30}).settle.startswith("It lies so near its limit")


def test_a_coarse_rule_never_shows_relief_in_range():
    assert found("relief", {"height_12:6": 1.85}, gauges={"height_12": "rule"}) is None
    assert found("height_12:6", {"height_12:6": 1.85}, gauges={"height_12": "rule"}).verdict == "too_close"


def test_a_high_slot_is_lowered_by_more_than_its_gap():
    """String straight from slot to fret 3: over fret 1 a share 1 − x1/x3 of the slot's move arrives.

    x1 = L(1 − 2^(−1/12)), x3 = L(1 − 2^(−3/12)): 1/(1 − 0.056126/0.159104) = 1.5450 (equal temperament).
    """
    finding = found("nut_gap:3", {"nut_gap:3": 0.40})
    assert finding.verdict == "out_of_range"
    assert finding.move == "Lower the slot by 0.39 mm."  # (0.40 − 0.15)·1.5450 = 0.386


def test_a_low_slot_cannot_be_filed_right():
    finding = found("nut_gap:1", {"nut_gap:1": 0.0})
    assert finding.move.startswith("Filing cannot mend this: the slot has to come up by 0.23 mm.")


def test_without_the_scale_the_gap_itself_is_named():
    finding = found("nut_gap:3", {"nut_gap:3": 0.40}, spec={})
    assert finding.move == "Lower the slot until the gap is 0.25 mm less."


def test_a_string_that_was_not_read_is_missing_not_wrong():
    finding = found("nut_gap:4", {})
    assert finding.verdict == "missing"
    assert finding.headline == "Not read yet: gap at fret 1, held at fret 3 of string 4."
