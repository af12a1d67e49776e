"""Moving an order on its page."""

import pytest

from shop.orders.states import State
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(cleo):
    return booked(cleo)


def move(client, order, to, **typed):
    return client.post(f"/orders/{order.number}/move/{to}/", typed)


def test_it_moves_and_says_so(as_person, cleo, order):
    client = as_person(cleo)
    assert move(client, order, "assessed")["Location"] == f"/orders/{order.number}/"
    order.refresh_from_db()
    assert order.state == State.ASSESSED
    assert "is now assessed" in client.get(f"/orders/{order.number}/").content.decode()


def test_a_missing_reason_is_asked_for_beside_the_move(as_person, cleo, order):
    answer = move(as_person(cleo), order, "declined")
    assert answer.status_code == 422
    assert "Say why it is declined." in answer.context["page"].form["move"].errors["reason"]
    order.refresh_from_db()
    assert order.state == State.BOOKED_IN


def test_a_reason_that_is_too_long_is_kept(as_person, cleo, order):
    answer = move(as_person(cleo), order, "declined", reason="x" * 301)
    assert answer.status_code == 422
    assert "x" * 301 in answer.content.decode()


@pytest.mark.parametrize("to", ["collected", "on_bench"])
def test_a_move_that_is_not_there(as_person, cleo, order, to):
    answer = move(as_person(cleo), order, to)
    assert answer.status_code == 422
    assert "cannot become" in answer.content.decode()


def test_a_state_that_does_not_exist(as_person, cleo, order):
    assert move(as_person(cleo), order, "burnt").status_code == 422


def test_two_who_press_at_once(as_person, cleo, order):
    client = as_person(cleo)
    move(client, order, "assessed")
    assert move(client, order, "assessed").status_code == 422
    assert order.events.filter(what="moved").count() == 1


def test_only_who_signs_worksheets_checks_without_one(as_person, cleo, ben, order):
    type(order).objects.update(state=State.ON_BENCH)
    assert move(as_person(cleo), order, "checked", reason="played in").status_code == 403
    assert move(as_person(ben), order, "checked", reason="played in").status_code == 302
    order.refresh_from_db()
    assert order.state == State.CHECKED


def test_get_is_refused_and_unknown_is_not_found(as_person, cleo, order):
    client = as_person(cleo)
    assert client.get(f"/orders/{order.number}/move/assessed/").status_code == 405
    assert client.post("/orders/26-9999/move/assessed/").status_code == 404
