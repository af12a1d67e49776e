"""Which of several ways to say a thing are asked for: those that find nothing more are left out."""

from hypothesis import given
from hypothesis import strategies as st

from shop.lib.parts import _widest

LETTERS = st.text("01a", min_size=1, max_size=4)
CHOICES = st.lists(st.lists(LETTERS, min_size=1, max_size=3), max_size=4)


def finds(key, choices):
    return any(all(word in key for word in words) for words in choices)


def test_a_number_without_its_nought_finds_the_one_with_it_too():
    assert _widest([["0163", "296"], ["01632960948"], ["1632960948"]]) == [["0163", "296"], ["1632960948"]]
    assert _widest([["pellorkes"], ["pellorkes"]]) == [["pellorkes"]]


@given(st.text("01a", max_size=12), CHOICES)
def test_what_is_left_out_would_have_found_nothing_more(key, choices):
    assert finds(key, _widest(choices)) == finds(key, choices)


@given(CHOICES)
def test_one_way_stays_where_there_was_one(choices):
    assert bool(_widest(choices)) == bool(choices)
