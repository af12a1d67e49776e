"""Lengths, angles and cents as people write them. The inch is 25.4 mm exactly (from memory)."""

import math

import pytest

from shop.lib import quantities


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("1.6", 1.6), ("1.6mm", 1.6), (" 1,6 mm ", 1.6), (".5", 0.5), ("5.", 5.0), ("+2", 2.0), ("-0.1", -0.1),
        ("−0.1", -0.1), ("0.5 cm", 5.0), ("4/64", 1.5875), ('4/64"', 1.5875), ("1/16 in", 1.5875), ("1/16 in.", 1.5875),
        ("1 1/16 in", 26.9875), ("1-1/16", 26.9875), ('0.063"', 1.6002), ("63 thou", 1.6002), ("4 64ths", 1.5875),
        ("1/2 mm", 0.5),
    ],
)  # fmt: skip
def test_length(text, mm):
    assert math.isclose(quantities.length_mm(text), mm, rel_tol=0, abs_tol=1e-12)


@pytest.mark.parametrize(("unit", "mm"), [("mm", 4.0), ("in", 101.6), ("64ths", 1.5875)])
def test_a_bare_number_is_in_the_workshops_unit(unit, mm):
    assert quantities.length_mm("4", unit) == pytest.approx(mm, abs=1e-12)


@pytest.mark.parametrize("unit", ["mm", "in", "64ths"])
def test_a_bare_fraction_is_of_an_inch_whatever_the_unit(unit):
    assert quantities.length_mm("1/16", unit) == 1.5875


@pytest.mark.parametrize(
    "text",
    [
        "", "abc", "1/0", "1e3", "nan", "inf", "1.2.3", ".", "1 2", "3/8 turn", "1/", "--1", "1 mm 2", "9" * 40, "3 N",
    ],
)  # fmt: skip
def test_nonsense_is_answered_with_what_would_be_accepted(text):
    with pytest.raises(ValueError, match=r"^Write .*a length.*\.$"):
        quantities.length_mm(text)


def test_angles_and_cents():
    assert quantities.angle_deg("12.5°") == pytest.approx(12.5, abs=1e-12)
    assert quantities.angle_deg("-3 deg") == pytest.approx(-3.0, abs=1e-12)
    assert quantities.cents("+1,5") == 1.5
    assert quantities.cents("-3 cents") == -3.0


@pytest.mark.parametrize(("read", "text"), [(quantities.angle_deg, "5 mm"), (quantities.cents, "5 mm")])
def test_a_wrong_unit_is_refused_with_a_sentence(read, text):
    with pytest.raises(ValueError, match=r"^Write .*not a length\.$"):
        read(text)
