"""The list of customers."""

import pytest

from tests import factories
from tests.counting import stays_the_same

pytestmark = pytest.mark.django_db


def test_it_lists_them_by_name(as_person, cleo):
    factories.customer(name="Zoe Wick")
    factories.customer(name="Abel Moor")
    text = as_person(cleo).get("/customers/").content.decode()
    assert text.index("Abel Moor") < text.index("Zoe Wick")


def test_newest_first(as_person, cleo):
    factories.customer(name="Abel Moor")
    factories.customer(name="Zoe Wick")
    text = as_person(cleo).get("/customers/?sort=-since").content.decode()
    assert text.index("Zoe Wick") < text.index("Abel Moor")


def test_it_finds(as_person, cleo):
    factories.customer(name="Abel Moor", phone="", email="abel@example.com")
    factories.customer(name="Zoe Wick")
    text = as_person(cleo).get("/customers/?q=wick").content.decode()
    assert "Zoe Wick" in text
    assert "Abel Moor" not in text


@pytest.mark.parametrize("query", ["", "?q=nobody", "?sort=nonsense", "?page=999", "?page=x", "?q=" + "x" * 500])
def test_odd_questions_are_answered(as_person, cleo, query):
    assert as_person(cleo).get(f"/customers/{query}").status_code == 200


def test_it_says_when_nobody_is_there(as_person, cleo):
    assert "Nobody is on file yet" in as_person(cleo).get("/customers/").content.decode()


def test_it_asks_as_much_of_twice_as_many(as_person, cleo):
    def six_more():
        for number in range(6):
            factories.instrument(factories.customer(name=f"Somebody {number}"))

    six_more()
    stays_the_same(as_person(cleo), "/customers/", six_more)


def test_post_is_refused(as_person, cleo):
    assert as_person(cleo).post("/customers/").status_code == 405
