"""What holds now, from readings of several stages."""

import math

import pytest

from tests import worksheet_builders as build


def test_a_bench_reading_outdates_the_one_as_received_even_if_that_is_corrected_later():
    sheet = build.sheet({"relief": 0.2, "received.relief": 0.4})
    assert sheet.value("relief") == 0.2


def test_among_bench_and_as_left_the_newer_one_holds():
    assert build.sheet({"left.relief": 0.2, "relief": 0.3}).value("relief") == 0.3
    assert build.sheet({"relief": 0.3, "left.relief": 0.2}).value("relief") == 0.2


def test_only_looks_at_the_stages_asked_for():
    sheet = build.sheet({"received.relief": 0.4, "relief": 0.2})
    assert sheet.only("received").value("relief") == 0.4


@pytest.mark.parametrize("value", [math.nan, math.inf, None])
def test_what_is_no_finite_number_is_not_read(value):
    assert build.sheet({"relief": value}).value("relief") is None


def test_a_series_keeps_every_round():
    sheet = build.sheet({"octave:3": [4.0, 1.0, 0.2]})
    assert [one.value for one in sheet.series("octave", 3)] == [4.0, 1.0, 0.2]
    assert sheet.value("octave", 3) == 0.2


def test_targets_between_the_outer_strings_are_in_proportion():
    sheet = build.sheet()
    assert sheet.target("height_12", 6) == (1.6, 2.1)
    assert sheet.target("height_12", 1) == (1.2, 1.7)
    assert sheet.target("height_12", 3) == pytest.approx((1.36, 1.86))


def test_an_open_or_missing_target_is_none():
    sheet = build.sheet()
    assert sheet.target("edge_clearance") == (0.4, None)
    assert sheet.target("belfry") == (None, None)


def test_a_specification_that_is_not_there_is_none():
    sheet = build.sheet(spec={"tail_run_mm": {"value": None, "assumed": True}})
    assert (sheet.spec_value("tail_run_mm"), sheet.spec_value("belfry")) == (None, None)
    assert sheet.is_assumed("tail_run_mm")
