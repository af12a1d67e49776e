"""Minutes as they are typed. The forms are common practice, no source; what is read comes from the words themselves."""

import pytest
from django import forms
from hypothesis import given
from hypothesis import strategies as st

from shop.lib import minutes
from shop.lib.dates import spoken_minutes


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("90", 90), ("0", 0), (" 45 min ", 45), ("45m", 45), ("2h", 120), ("2 H", 120), ("1.5 h", 90), ("1,25h", 75),
        ("1:30", 90), ("0:05", 5), ("1h30", 90), ("1 h 30 min", 90), ("1 h 5 min", 65), ("2h 5m", 125),
    ],
)  # fmt: skip
def test_it_is_read_as_it_is_written(typed, read):
    assert minutes.read(typed) == read


@pytest.mark.parametrize("typed", ["a while", "1.5", "1:5", "1:60", "1h5", "-5", "h", "1e3", "١٢", "1h30h", "9" * 9])
def test_what_may_mean_anything_else_is_asked_back(typed):
    with pytest.raises(ValueError, match=r"Write minutes, such as 90, or hours, such as 1:30 or 1\.5 h\."):
        minutes.read(typed)


@given(st.integers(0, 60 * 24 * 5))
def test_what_pages_say_reads_back_as_the_same(many):
    assert minutes.read(spoken_minutes(many)) == many


def test_a_field_is_bounded_and_keeps_what_was_typed():
    class Form(forms.Form):
        minutes = minutes.MinutesField(max_value=600, required=False)

    assert Form({"minutes": "1h30"}).is_valid()
    assert Form({"minutes": ""}).is_valid()
    refused = Form({"minutes": "11 h"})
    assert "600" in refused.errors["minutes"][0]
    assert 'value="11 h"' in str(refused["minutes"])
