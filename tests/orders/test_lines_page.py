"""Lines on the order's page."""

from decimal import Decimal

import pytest

from shop.orders import services
from shop.orders.models import Agreement
from shop.orders.services import NewLine
from shop.orders.states import State
from tests.counter_builders import booked, price

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(cleo):
    return booked(cleo, lines=(NewLine("Setup", Decimal("85.00"), Decimal(20), minutes=90),))


@pytest.fixture
def post(as_person, cleo, order):
    client = as_person(cleo)
    return lambda path, **typed: client.post(f"/orders/{order.number}/lines/{path}", typed)


def test_from_the_price_list(post, order):
    answer = post("pick/", **{"pick-item": price("Studs", "14.50").pk, "pick-quantity": "2"})
    assert answer["Location"] == f"/orders/{order.number}/#work"
    assert order.lines.last().quantity == 2


@pytest.mark.parametrize(
    "typed",
    [{"pick-quantity": "1"}, {"pick-item": "999", "pick-quantity": "1"}, {"pick-item": "1" * 30, "pick-quantity": "1"}],
)
def test_nothing_picked(post, order, typed):
    answer = post("pick/", **typed)
    assert answer.status_code == 422
    assert "item" in answer.context["page"].form["pick"].errors


def test_what_is_no_longer_offered_cannot_be_picked(post):
    assert post("pick/", **{"pick-item": price("Old", retired=True).pk, "pick-quantity": "1"}).status_code == 422


LINE = {
    "line-text": "Find the rattle",
    "line-kind": "work",
    "line-quantity": "1",
    "line-price": "12,50",
    "line-minutes": "20",
}


def test_typed_freely_with_the_shops_usual_tax(post, order):
    post("add/", **LINE)
    line = order.lines.last()
    assert (line.text, line.price, line.tax_rate) == ("Find the rattle", Decimal("12.50"), Decimal("20.00"))


@pytest.mark.parametrize(
    ("field", "typed"), [("text", ""), ("price", "x"), ("quantity", "0"), ("minutes", "-1"), ("kind", "gift")]
)
def test_bad_input_is_said_and_kept(post, order, field, typed):
    answer = post("add/", **LINE | {f"line-{field}": typed})
    assert answer.status_code == 422
    errors = answer.context["page"].form["line"].errors[field]
    assert all(error.endswith(".") for error in errors)
    assert order.lines.count() == 1


def changed(line, **typed):
    shown = {"text": line.text, "kind": line.kind, "quantity": "1", "price": "85.00", "tax_rate": "20", "minutes": "90"}
    return shown | {f"initial-{name}": value for name, value in shown.items()} | typed


def test_changed(post, order):
    line = order.lines.get()
    post(f"{line.pk}/", **changed(line, price="95"))
    line.refresh_from_db()
    assert line.price == Decimal(95)


def test_two_who_change_different_things(post, order):
    line = order.lines.get()
    type(line).objects.update(minutes=45)
    post(f"{line.pk}/", **changed(line, price="95"))
    line.refresh_from_db()
    assert (line.price, line.minutes) == (Decimal(95), 45)


def test_a_change_that_cannot_be(post, order):
    line = order.lines.get()
    answer = post(f"{line.pk}/", **changed(line, price="free"))
    assert answer.status_code == 422
    assert "Write an amount" in answer.content.decode()


def test_all_agreed_by_telephone(post, order):
    post("agree/", how="by telephone")
    order.refresh_from_db()
    assert (order.state, order.lines.get().agreed_how) == (State.AGREED, "by telephone")


def test_one_declined(post, order):
    line = order.lines.get()
    post("decline/", how="at the counter", line=line.pk)
    line.refresh_from_db()
    assert line.agreement == Agreement.DECLINED


def test_how_has_to_be_one_of_those_there_are(post, order):
    assert post("agree/", how="by pigeon").status_code == 422
    assert order.lines.get().agreement == Agreement.PROPOSED


def test_nothing_left_to_answer_is_said(as_person, cleo, order, post):
    post("agree/", how="at the counter")
    answer = as_person(cleo).post(f"/orders/{order.number}/lines/agree/", {"how": "at the counter"}, follow=True)
    assert "no line that waits for an answer" in answer.content.decode()


def test_asked_again_and_taken_off(post, order):
    line = order.lines.get()
    post("agree/", how="at the counter")
    post(f"{line.pk}/ask/")
    line.refresh_from_db()
    assert line.agreement == Agreement.PROPOSED
    post(f"{line.pk}/remove/")
    assert not order.lines.exists()


def test_fixed_lines_say_why(as_person, cleo, order):
    services.fix_lines(order, "invoice R26-0001")
    client = as_person(cleo)
    answer = client.post(f"/orders/{order.number}/lines/{order.lines.get().pk}/remove/", follow=True)
    assert "fixed by invoice R26-0001" in answer.content.decode()
    assert "Add from the price list" not in answer.content.decode()
    assert order.lines.exists()


def test_another_orders_line_is_not_found(as_person, cleo, order):
    other = booked(cleo, lines=(NewLine("Other", Decimal(1), Decimal(20)),))
    client = as_person(cleo)
    for action in ("", "remove/", "ask/"):
        path = f"/orders/{order.number}/lines/{other.lines.get().pk}/{action}"
        assert client.post(path).status_code == 404


def test_get_is_refused(as_person, cleo, order):
    client = as_person(cleo)
    for path in ("pick/", "add/", "agree/", "decline/", f"{order.lines.get().pk}/remove/"):
        assert client.get(f"/orders/{order.number}/lines/{path}").status_code == 405
