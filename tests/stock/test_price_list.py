"""The price list."""

import pytest

from tests import counter_builders
from tests.counting import stays_the_same

pytestmark = pytest.mark.django_db


def test_it_shows_price_tax_and_what_is_gone(as_person, ben):
    counter_builders.price("Setup", "85.00")
    counter_builders.price("Hand-wound pickups", "10.00", retired=True)
    text = as_person(ben).get("/prices/").content.decode()
    assert "€85.00" in text
    assert "20\u202f%" in text
    assert "no longer offered" in text


def test_it_asks_as_much_of_twice_as_many(as_person, ben):
    counter_builders.price("A")
    stays_the_same(as_person(ben), "/prices/", lambda: [counter_builders.price(f"Item {one}") for one in range(9)])


def test_it_says_when_it_is_empty(as_person, ben):
    assert "The price list is empty" in as_person(ben).get("/prices/").content.decode()
