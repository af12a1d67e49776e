"""Bad arguments are refused with the argument, the value and what is allowed; good ones come back as floats."""

import pickle

import numpy as np
import pytest

from geometry.errors import (
    GeometryError,
    as_count,
    as_not_negative,
    as_numbers,
    as_option,
    as_positive,
    as_within,
)


def test_message_names_argument_value_and_what_is_allowed():
    with pytest.raises(GeometryError, match=r"^scale_mm is -3; it must be above 0 and finite\.$"):
        as_positive("scale_mm", -3)


def test_it_is_a_value_error_and_keeps_its_parts():
    error = GeometryError("fret", 99, "from 0 to 36")
    assert isinstance(error, ValueError)
    assert (error.argument, error.value, error.allowed) == ("fret", 99, "from 0 to 36")


def test_it_survives_being_sent_to_another_process():
    error = pickle.loads(pickle.dumps(GeometryError("fret", 99, "from 0 to 36")))
    assert str(error) == "fret is 99; it must be from 0 to 36."


def test_long_values_are_cut_in_the_message():
    assert len(str(GeometryError("crest_mm", list(range(1000)), "short"))) < 120


@pytest.mark.parametrize("bad", ["1.6", b"1", [1, "2"], 1j, object(), [[1], [2, 3]], np.datetime64("2026-01-01")])
def test_what_is_no_number_is_refused(bad):
    with pytest.raises(GeometryError, match="a number or an array of numbers"):
        as_numbers("height_mm", bad)


def test_none_is_a_missing_reading():
    assert np.isnan(as_numbers("height_mm", [1.5, None])[1])


def test_a_float_array_is_not_copied_and_whole_numbers_become_floats():
    array = np.array([1.0, 2.0])
    assert as_numbers("height_mm", array) is array
    assert as_numbers("height_mm", [1, 2]).dtype == np.float64


def test_strings_need_an_axis():
    with pytest.raises(GeometryError, match="strings on its last axis"):
        as_numbers("height_mm", 1.5, strings=True)


@pytest.mark.parametrize(
    ("check", "good", "bad"),
    [
        (lambda v: as_positive("length_mm", v), 1e-9, 0.0),
        (lambda v: as_positive("length_mm", v), 5.0, np.inf),
        (lambda v: as_positive("length_mm", v), 5.0, -np.inf),
        (lambda v: as_not_negative("force_n", v), 0.0, -1e-300),
        (lambda v: as_within("tilt_deg", v, -5, 5), 5.0, 5.0001),
        (lambda v: as_within("tilt_deg", v, -5, 5), -5.0, -5.0001),
    ],
)
def test_bounds(check, good, bad):
    """Alone, in an array, and in an array where a NaN hides it from a plain comparison of extremes."""
    for value in (good, [good, good], [np.nan, good], [np.nan], []):
        check(value)
    for value in (bad, [good, bad], [np.nan, bad], [[good, np.nan], [bad, good]]):
        with pytest.raises(GeometryError):
            check(value)


@pytest.mark.parametrize("bad", [0, 25, 2.0, True, "6", None])
def test_counts_are_whole_and_bounded(bad):
    with pytest.raises(GeometryError, match="a whole number from 1 to 24"):
        as_count("count", bad, 1, 24)


def test_numpy_whole_numbers_count():
    assert as_count("count", np.int64(6), 1, 24) == 6


def test_options_list_what_is_allowed():
    with pytest.raises(GeometryError, match="one of ends, strings"):
        as_option("form", "middle", ("ends", "strings"))
