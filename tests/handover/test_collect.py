"""The customer takes the instrument: paid, or with a reason."""

from decimal import Decimal

import pytest
from django.urls import reverse

from shop.billing import services as billing
from shop.handover import services
from shop.orders.services import NotAllowed
from shop.orders.states import State
from tests import money_builders


def pay(order, amount, by):
    billing.receive(order, amount=Decimal(amount), kind="card", key=money_builders.key(), by=by)


@pytest.fixture
def ready(cleo):
    order = money_builders.order(cleo, state=State.READY)
    billing.issue(order, by=cleo)
    return order


def test_paid_in_full_it_goes(cleo, ready):
    pay(ready, "85", cleo)
    assert services.collect(ready, by=cleo).state == State.COLLECTED
    assert ready.closed_at is not None


def test_with_money_open_it_needs_a_reason(cleo, ready):
    pay(ready, "50", cleo)
    with pytest.raises(NotAllowed, match=r"€35\.00 is still open\. Say why the instrument goes all the same\."):
        services.collect(ready, by=cleo)
    services.collect(ready, by=cleo, reason="Pays by transfer tomorrow.")
    assert ready.events.last().text == "Ready → collected: €35.00 is still open. Pays by transfer tomorrow."


def test_with_money_to_give_back_it_needs_a_reason(cleo):
    order = money_builders.order(cleo, state=State.READY)
    pay(order, "100", cleo)
    billing.issue(order, by=cleo)
    with pytest.raises(NotAllowed, match=r"€15\.00 is to be given back\."):
        services.collect(order, by=cleo)


def test_what_is_agreed_and_not_billed_is_open(cleo):
    order = money_builders.order(cleo, state=State.READY)
    with pytest.raises(NotAllowed, match=r"€85\.00 is still open and not billed yet\."):
        services.collect(order, by=cleo)


def test_declined_it_goes_back_as_it_came_without_an_invoice(cleo):
    order = money_builders.order(cleo, lines=[], state=State.DECLINED)
    assert services.collect(order, by=cleo).state == State.COLLECTED
    assert not order.invoices.exists()


def test_an_assessment_fee_of_a_declined_order_is_billed_and_paid(cleo):
    order = money_builders.order(cleo, lines=[("Assessment", "25.00")], state=State.DECLINED)
    with pytest.raises(NotAllowed, match=r"€25\.00 is still open"):
        services.collect(order, by=cleo)
    services.issue_invoice(order, by=cleo)
    pay(order, "25", cleo)
    assert services.collect(order, by=cleo).state == State.COLLECTED


@pytest.mark.parametrize("state", [State.BOOKED_IN, State.ON_BENCH, State.CHECKED, State.COLLECTED])
def test_not_from_anywhere_else(cleo, state):
    with pytest.raises(NotAllowed, match="is not handed over"):
        services.collect(money_builders.order(cleo, lines=[], state=state), by=cleo)


def test_the_page_keeps_what_was_typed_and_says_why(cleo, ready, as_person):
    client = as_person(cleo)
    address = reverse("order-collect", args=[ready.number])
    answer = client.post(address, {"reason": "  "})
    assert answer.status_code == 422
    assert "€85.00 is still open. Say why" in answer.content.decode()
    answer = client.post(address, {"reason": "A friend of the house."})
    assert answer.status_code == 302
    ready.refresh_from_db()
    assert ready.state == State.COLLECTED
