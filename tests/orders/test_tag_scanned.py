"""A scanned tag opens the open worksheet for the bench, the order for everybody else."""

import pytest

from shop.orders import hooks
from tests import worksheet_builders
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(cleo):
    return booked(cleo)


def test_the_counter_comes_to_the_order(as_person, cleo, ben, order):
    worksheet_builders.worksheet(order, ben)
    assert as_person(cleo).get(f"/t/{order.number}/")["Location"] == f"/orders/{order.number}/"


def test_the_bench_comes_to_the_open_worksheet(as_person, ben, order):
    sheet = worksheet_builders.worksheet(order, ben)
    assert as_person(ben).get(f"/t/{order.number}/")["Location"] == f"/bench/{sheet.pk}/"


def test_without_one_the_bench_comes_to_the_order(as_person, ben, order):
    assert as_person(ben).get(f"/t/{order.number}/")["Location"] == f"/orders/{order.number}/"


def test_nobody_is_asked_to_sign_in_and_comes_back_to_it(client, order):
    answer = client.get(f"/t/{order.number}/")
    assert answer["Location"] == f"/sign-in/?next=/t/{order.number}/"


def test_the_first_answer_counts(monkeypatch, order, ben):
    monkeypatch.setattr(hooks, "when_scanned", [lambda *_: None, lambda *_: "/first/", lambda *_: "/second/"])
    assert hooks.scanned(order, ben) == "/first/"


def test_no_such_order(as_person, ben):
    assert as_person(ben).get("/t/26-9999/").status_code == 404
