"""One box that finds customers, instruments and orders."""

import pytest

from shop.orders.finding import find
from tests import factories
from tests.counter_builders import booked
from tests.counting import stays_the_same

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(cleo):
    return booked(cleo)


@pytest.mark.parametrize("text", ["mara", "960123", "+44 (0)1632 960123", "mara@example.com"])
def test_the_customer(text, order):
    found = find(text, order.booked_by)
    assert found.customers == [order.customer]
    assert found.orders == [order]


@pytest.mark.parametrize("text", ["larkrise", "lr0412", "LR 0412"])
def test_the_instrument(text, order):
    assert find(text, order.booked_by).instruments == [order.instrument]


def test_an_exact_number_leads_straight_to_the_order(as_person, ben, order):
    assert as_person(ben).get("/find/", {"q": order.number})["Location"] == f"/orders/{order.number}/"


def test_a_scanned_address_of_no_order_finds_nothing(as_person, ben, order):
    answer = as_person(ben).get("/find/", {"q": "http://127.0.0.1:8000/t/99-9999/"})
    assert answer.status_code == 200
    assert "Nothing on file fits" in answer.content.decode()


@pytest.mark.parametrize("text", ["", "   ", "\x00", "%", "'", "x" * 1000, "=1+1", "🎸"])
def test_odd_questions_are_answered(as_person, ben, order, text):
    assert as_person(ben).get("/find/", {"q": text}).status_code == 200


def test_what_is_not_there(as_person, ben, order):
    assert find("nobody at all", order.booked_by).is_empty


def test_it_asks_as_much_of_twice_as_many(as_person, ben, cleo):
    def six_more():
        for number in range(6):
            booked(cleo, customer=factories.customer(name=f"Fell {number}"))

    six_more()
    stays_the_same(as_person(ben), "/find/?q=fell", six_more)


def test_each_kind_leads_to_its_whole_list(as_person, cleo, order):
    page = as_person(cleo).get("/find/?q=fell").text
    for address in ("/customers/?q=fell", "/orders/?show=all&amp;q=fell"):
        assert f'href="{address}"' in page


def test_post_is_refused(as_person, ben):
    assert as_person(ben).post("/find/").status_code == 405
