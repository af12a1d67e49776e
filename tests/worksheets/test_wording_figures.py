"""Figures as the bench says them."""

import pytest

from shop.worksheets.evaluation import evaluate_sheet
from shop.worksheets.wording.said import Said, cents, degrees, listed, newtons, turns
from tests import worksheet_builders as build


@pytest.mark.parametrize(
    ("unit", "said"), [("mm", "1.59 mm"), ("in", "0.062 in"), ("64ths", "4.0/64 in")]
)
def test_a_length_is_said_in_the_workshops_unit(unit, said):
    assert Said(unit).length(1.5875) == said


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (1.6, 2.1, "between 1.60 and 2.10 mm"), (0.4, None, "at least 0.40 mm"), (None, 1.0, "at most 1.00 mm"),
        (None, None, "without a target"),
    ],
)  # fmt: skip
def test_a_range_is_said_once_with_its_unit(low, high, said):
    assert Said().between(low, high) == said


def test_ranges_of_cents_and_degrees():
    assert Said().range(-1.5, 1.5, "cents") == "between −1.5 and +1.5 cents"
    assert Said().range(6, 17, "deg") == "between 6.0° and 17.0°"


def test_minus_is_a_minus_sign_and_zero_has_none():
    assert Said().length(-0.25) == "−0.25 mm"
    assert Said().length(-0.001) == "0.00 mm"
    assert cents(-0.01) == "0.0 cents"
    assert cents(2.25) == "+2.2 cents"
    assert degrees(-0.04) == "0.0°"


@pytest.mark.parametrize(
    ("count", "said"),
    [
        (0.02, "less than 1/16 turn"), (0.125, "1/8 turn"), (0.37, "3/8 turn"), (1.0, "1 turn"), (1.25, "1 1/4 turns"),
        (-0.5, "1/2 turn"), (2.97, "3 turns"),
    ],
)  # fmt: skip
def test_turns_are_said_in_eighths(count, said):
    assert turns(count) == said


def test_a_force_is_said_with_its_everyday_equal():
    assert newtons(490.33) == "490 N (50 kg of pull)"


def test_a_whole_finding_in_inches_and_in_64ths():
    """25.4 mm to the inch, exactly (from memory): 2.35 mm is 0.0925 in, or 5.92/64."""
    sheet = build.sheet({"height_12:6": 2.35, "height_12:1": 1.95})
    inches = evaluate_sheet(sheet, unit="in").finding("height_12:6")
    assert inches.headline == (
        "Height at fret 12 of string 6 is 0.093 in: 0.010 in above its range, between 0.063 and 0.083 in."
    )
    assert inches.move == "Both posts down 0.039 in (1 3/8 turns)."
    parts = evaluate_sheet(sheet, unit="64ths").finding("height_12:6")
    assert parts.headline == (
        "Height at fret 12 of string 6 is 5.9/64 in: 0.6/64 in above its range, between 4.0/64 and 5.3/64 in."
    )
    assert (inches.value, inches.verdict) == (parts.value, parts.verdict)


def test_lists():
    assert [listed([1]), listed([1, 2]), listed([1, 2, 3]), listed([])] == ["1", "1 and 2", "1, 2 and 3", ""]
