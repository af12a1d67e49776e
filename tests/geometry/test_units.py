"""Quantities as people write them; pint is the second opinion."""

import math
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.units import (
    LENGTH_UNITS,
    format_length,
    parse_angle_rad,
    parse_cents,
    parse_force_n,
    parse_length_mm,
)

REGISTRY = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "length_mm"),
    [
        ("1.6", 1.6), ("1.6mm", 1.6), (" 1.6 MM ", 1.6), ("1,6 mm", 1.6), (".5", 0.5), ("5.", 5.0), ("-0.2", -0.2),
        ("−0.2 mm", -0.2), ("+0.2", 0.2), ("0", 0.0), ("1.2cm", 12.0),
        ("4/64", 1.5875), ("4⁄64", 1.5875), ("1/16 in", 1.5875), ('1/16"', 1.5875), ("1/16''", 1.5875),
        ('0.063"', 1.6002), ("0.063 in.", 1.6002), ("1 inch", 25.4), ("2 inches", 50.8), ("63 thou", 1.6002),
        ("4 64ths", 1.5875), ("1 64th", 0.396875), ("62.5 mils", 1.5875), ("1 1/2 in", 38.1), ("1-1/2 in", 38.1),
        ("½ in", 12.7), ("1½\"", 38.1), ("1/2 mm", 0.5), ("24.75\"", 628.65),
    ],
)  # fmt: skip
def test_lengths(text, length_mm):
    assert parse_length_mm(text) == pytest.approx(length_mm, abs=1e-12)


@pytest.mark.parametrize(
    ("unit", "length_mm"), [("mm", 3.0), ("cm", 30.0), ("in", 76.2), ("64ths", 1.190625), ("thou", 0.0762)]
)
def test_a_bare_number_is_in_the_given_unit(unit, length_mm):
    assert parse_length_mm("3", bare_unit=unit) == length_mm


@pytest.mark.parametrize("unit", LENGTH_UNITS)
def test_a_bare_fraction_is_of_an_inch_whatever_the_unit(unit):
    assert parse_length_mm("4/64", bare_unit=unit) == 1.5875


@pytest.mark.parametrize(
    "text",
    [
        "", "   ", "nan", "inf", "-inf", "1e3", "1e999", "0x10", "abc", "mm", "1.6 mm 2", "1.6 mm in", "1 2", "1/0 in",
        "1//2", "1/2/3", "1.2.3", "--1", "1.6 furlong", "1.6 °", "3 N", "5 cents", "99999999999", "10001 mm", "400 in",
        "1_000", "１.6 meter", "\x00", "1.6mm;", "1,000.5", "/64", "4/", "∞", "٣ mm²",
    ],
)  # fmt: skip
def test_nonsense_is_refused_with_a_reason(text):
    with pytest.raises(GeometryError) as caught:
        parse_length_mm(text)
    assert caught.value.argument == "text"
    assert "length" in caught.value.allowed


@pytest.mark.parametrize("value", [None, 1.6, b"1.6", ["1.6"]])
def test_only_text_is_read(value):
    with pytest.raises(GeometryError):
        parse_length_mm(value)


def test_the_reason_says_which_kind_it_was():
    with pytest.raises(GeometryError, match="a length, not a force"):
        parse_length_mm("3 N")
    with pytest.raises(GeometryError, match="at most one unit"):
        parse_length_mm("1 mm 2 in")
    with pytest.raises(GeometryError, match="other than 0 below"):
        parse_length_mm("3/0")


@pytest.mark.parametrize("count", range(65))
def test_every_64th_reads_as_its_exact_length(count):
    assert parse_length_mm(f"{count}/64") == float(Fraction(254, 10) * count / 64)


def test_angles():
    assert parse_angle_rad("180") == math.pi
    assert parse_angle_rad("12.5°") == pytest.approx(math.radians(12.5), abs=1e-15)
    assert parse_angle_rad("0.2 rad") == parse_angle_rad("0.2", bare_unit="rad") == 0.2
    with pytest.raises(GeometryError, match="an angle, not a length"):
        parse_angle_rad("3 mm")
    with pytest.raises(GeometryError, match="believable"):
        parse_angle_rad("361")


def test_cents():
    assert (parse_cents("+1.5"), parse_cents("-3 cents"), parse_cents("2c"), parse_cents("2¢")) == (1.5, -3.0, 2.0, 2.0)
    with pytest.raises(GeometryError, match="cents"):
        parse_cents("99999")


def test_forces():
    assert parse_force_n("70") == parse_force_n("70 N") == 70.0
    assert parse_force_n("1", bare_unit="lbf") == parse_force_n("1 lb") == 4.4482216152605


@pytest.mark.parametrize(
    ("parse", "text", "ours"),
    [
        (parse_length_mm, "0.063 in", "mm"), (parse_length_mm, "63 thou", "mm"), (parse_length_mm, "2.5 cm", "mm"),
        (parse_angle_rad, "12.5 degree", "radian"), (parse_force_n, "16.5 lbf", "newton"),
    ],
)  # fmt: skip
def test_pint_agrees(parse, text, ours):
    number, unit = text.split()
    theirs = REGISTRY.Quantity(float(number), unit).to(ours).magnitude
    assert parse(text) == pytest.approx(theirs, rel=1e-14)


@given(st.floats(-9000, 9000), st.sampled_from(sorted(set(LENGTH_UNITS) - {"64ths"})), st.integers(0, 9))
def test_what_is_written_reads_back(length_mm, unit, digits):
    half_digit = 0.5 * 10.0**-digits * float(LENGTH_UNITS[unit])
    assert abs(parse_length_mm(format_length(length_mm, unit=unit, digits=digits)) - length_mm) <= half_digit + 1e-9


@given(st.integers(-20000, 20000))
def test_64ths_read_back_exactly(count):
    length_mm = count * 25.4 / 64
    assert parse_length_mm(format_length(length_mm, unit="64ths")) == pytest.approx(length_mm, abs=1e-12)


@given(st.text(max_size=30))
def test_no_text_does_anything_but_read_or_refuse(text):
    for parse in (parse_length_mm, parse_angle_rad, parse_cents, parse_force_n):
        try:
            assert math.isfinite(parse(text))
        except GeometryError as refused:
            assert str(refused).endswith(".")


@pytest.mark.parametrize("bad", [math.nan, math.inf, "1.6", None])
def test_only_finite_lengths_are_written(bad):
    with pytest.raises(GeometryError):
        format_length(bad, unit="mm")


def test_no_negative_zero_is_written():
    assert format_length(-0.001, unit="mm") == "0.00 mm"
    assert format_length(-0.001, unit="64ths") == "0/64 in"
