"""Lengths and gauges out and in again. Gauges by their size: common practice, no source."""

import pytest

from shop.lib.quantities import gauge_mm, read_number, shown_gauge, shown_length, shown_number


def plain(text):
    return text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [(628.0, "mm", "628 mm"), (628.65, "mm", "628.65 mm"), (628.65, "in", "24.75 in"), (628.65, "64ths", "24 48/64 in"),
     (None, "mm", ""), (0.0, "mm", "0 mm")],
)  # fmt: skip
def test_lengths_are_shown_in_the_shops_unit(value, unit, text):
    assert plain(shown_length(value, unit)) == text


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_shown_length_reads_back(unit):
    assert read_number(plain(shown_length(645.16, unit)), "mm", unit) == pytest.approx(645.16, abs=0.013)


@pytest.mark.parametrize(
    ("typed", "mm"),
    [("10", 0.254), (".010", 0.254), ("0,010", 0.254), ("46", 1.1684), ("0.25", 0.25), ("0.25 mm", 0.25),
     ("0.046 in", 1.1684), ("105", 2.667), ("2.6", 2.6), ("9.5", 0.2413)],
)  # fmt: skip
def test_a_bare_gauge_is_read_by_its_size(typed, mm):
    assert gauge_mm(typed) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize("typed", ["", "thick", "3 N", "1 2 3", "nan", "inf", "1e400"])
def test_what_is_no_gauge_is_refused_in_a_sentence(typed):
    with pytest.raises(ValueError, match=r"^Write .*\.$"):
        gauge_mm(typed)


def test_a_gauge_is_shown_both_ways():
    assert plain(shown_gauge(0.254)) == "0.010 in · 0.25 mm"


@pytest.mark.parametrize(
    ("value", "unit", "text"), [(22.0, "none", "22"), (3.5, "deg", "3.5 °"), (None, "deg", ""), (1.0, "mm", "1 mm")]
)
def test_values_are_shown_in_their_own_unit(value, unit, text):
    assert plain(shown_number(value, unit)) == text


@pytest.mark.parametrize("typed", ["22.5", "many", ""])
def test_a_count_is_a_whole_number(typed):
    with pytest.raises(ValueError, match="whole number"):
        read_number(typed, "none")
