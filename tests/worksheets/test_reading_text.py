"""From what is typed to a value."""

import pytest

from shop.worksheets.families import family_for
from shop.worksheets.reading_text import parse

FAMILY = family_for("two_post_stop")


def field(key):
    return FAMILY.any_field(key)


@pytest.mark.parametrize(
    ("key", "raw", "value"),
    [
        ("relief", "0.2", 0.2), ("relief", "-0.05", -0.05), ("height_12", "4/64", 1.5875), ("octave", "+2", 2.0),
        ("saddle_facing", "flat_rear", 0.0), ("saddle_facing", "FLAT_FRONT", 1.0), ("strings_fitted", "yes", 1.0),
        ("strings_fitted", "no", 0.0), ("fret_play", "buzz", 1.0),
    ],
)  # fmt: skip
def test_value(key, raw, value):
    parsed = parse(field(key), raw)
    assert (parsed.value, parsed.problem) == (pytest.approx(value), "")


@pytest.mark.parametrize("raw", ["", "   "])
def test_an_empty_field_is_no_value_and_no_problem(raw):
    assert parse(field("relief"), raw) == parse(field("season"), raw)


def test_a_text_is_kept_as_it_is():
    assert parse(field("season"), "January, 35 %").problem == ""


@pytest.mark.parametrize(
    ("key", "raw", "said"),
    [
        ("relief", "a hair", "Write a length such as"),
        ("height_12", "160", "That cannot be height at fret 12"),
        ("octave", "sharp", "Write cents"),
        ("saddle_facing", "sideways", "Choose one of: flat face to the rear"),
        ("strings_fitted", "perhaps", "Answer yes or no."),
        ("relief", "1" * 300, "Write at most 200 characters"),
    ],
)
def test_what_cannot_be_read_is_answered_with_a_sentence(key, raw, said):
    parsed = parse(field(key), raw)
    assert parsed.value is None
    assert parsed.problem.startswith(said)
    assert parsed.problem.endswith(".")


def test_a_bare_number_is_in_the_workshops_unit():
    assert parse(field("height_12"), "4", unit="64ths").value == pytest.approx(1.5875)


@pytest.mark.parametrize(("key", "raw", "value"), [
    ("humidity", "45", 45.0), ("humidity", "45 %", 45.0), ("temperature", "21 °C", 21.0),
    ("temperature", "70 F", 190 / 9), ("temperature", "-3", -3.0),
])  # fmt: skip
def test_the_room_is_read_in_percent_and_degrees(key, raw, value):
    assert parse(field(key), raw).value == pytest.approx(value)


@pytest.mark.parametrize(
    ("key", "raw"), [("humidity", "damp"), ("humidity", "nan"), ("temperature", "warm"), ("humidity", "140")]
)
def test_what_is_no_percentage_or_temperature_says_what_would_be(key, raw):
    found = parse(field(key), raw)
    assert found.value is None
    assert found.problem.endswith(".")
