"""The forms about money: what is typed counts once, is explained beside its field, and is never lost."""

import re
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.billing import services
from shop.billing.models import Invoice, Payment
from tests import factories
from tests import money_builders as build


@pytest.fixture
def order(cleo):
    return build.order(cleo, lines=[("Setup", "100.00")])


@pytest.fixture
def counter(cleo, as_person):
    return as_person(cleo)


def post(client, name, *args, **typed):
    return client.post(reverse(name, args=args), typed)


def received(order, **typed):
    form = {"receive-key": build.key(), "receive-amount": "30", "receive-kind": "cash", "receive-received_on": ""}
    return form | {f"receive-{name}": value for name, value in typed.items()}


def test_a_payment_is_written_down(order, counter):
    answer = post(counter, "money-receive", order.number, **received(order, amount="30,50", received_on="2026-01-02"))
    assert (answer.status_code, answer["Location"]) == (302, reverse("order-money", args=[order.number]))
    assert Payment.objects.get().amount == Decimal("30.50")


def test_a_form_that_stood_open_over_midnight_is_of_the_day_on_which_it_is_sent(order, cleo, as_person, monkeypatch):
    before = datetime(2026, 12, 31, 22, 40, tzinfo=UTC)  # twenty to twelve in the workshop
    monkeypatch.setattr(timezone, "now", lambda: before)
    counter = as_person(cleo)
    form = received(order) | as_shown(counter.get(reverse("order-money", args=[order.number])).text)
    monkeypatch.setattr(timezone, "now", lambda: before + timedelta(minutes=35))
    post(counter, "money-receive", order.number, **form)
    assert Payment.objects.get().received_on == date(2027, 1, 1)


def as_shown(page):
    """{name: value} of the day in the form for a payment, as the browser would send it."""
    field = re.search(r'<input[^>]*name="(receive-received_on)"[^>]*>', page)
    value = re.search(r'value="([^"]*)"', field[0])
    return {field[1]: value[1] if value else ""}


def test_the_same_form_sent_twice_counts_once(order, counter):
    form = received(order, received_on="2026-01-02")
    post(counter, "money-receive", order.number, **form)
    post(counter, "money-receive", order.number, **form)
    assert Payment.objects.count() == 1


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"amount": "a lot"}, "Write an amount such as 12.50."),
        ({"amount": ""}, "This field is required."),
        ({"amount": "0"}, "greater than or equal to"),
        ({"received_on": "2199-01-01"}, "A payment cannot be received on a day to come."),
        ({"received_on": "yesterday"}, "Enter a valid date."),
        ({"kind": "shells"}, "Select a valid choice"),
        ({"amount": "99999999999"}, "Write an amount such as 12.50."),
    ],
)
def test_what_makes_no_sense_is_explained_and_kept(order, counter, typed, said):
    answer = post(counter, "money-receive", order.number, **received(order, note="for the strings", **typed))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert said in page
    assert 'value="for the strings"' in page
    assert not Payment.objects.exists()


def test_more_than_is_open_is_refused_beside_the_amount(order, counter, cleo):
    services.issue(order, by=cleo)
    form = received(order, amount="500", received_on="2026-01-02")
    page = post(counter, "money-receive", order.number, **form).content.decode()
    assert 'id="id_receive-amount"' in page
    assert "Only €100.00 is open." in page


def test_money_is_given_back(order, counter, cleo):
    services.receive(order, amount=Decimal(40), kind="cash", key=build.key(), by=cleo)
    form = {"back-key": build.key(), "back-amount": "15", "back-kind": "cash", "back-reason": "Too much."}
    assert post(counter, "money-back", order.number, **form).status_code == 302
    assert Payment.objects.received() == Decimal("25.00")
    answer = post(counter, "money-back", order.number, **form | {"back-key": build.key(), "back-amount": "26"})
    assert answer.status_code == 422
    assert "At most €25.00 can be given back." in answer.content.decode()


def test_an_entry_is_taken_back(order, counter, cleo):
    wrong = services.receive(order, amount=Decimal(40), kind="cash", key=build.key(), by=cleo)
    answer = post(counter, "payment-undo", wrong.pk, key=build.key(), reason="")
    assert answer.status_code == 422
    post(counter, "payment-undo", wrong.pk, key=build.key(), reason="Typed for the wrong order.")
    assert Payment.objects.received() == 0
    assert "taken back" in counter.get(reverse("order-money", args=[order.number])).content.decode()


def test_a_discount_is_saved_and_shown(order, counter):
    form = {"discount-percent": "12,5", "discount-reason": "returning"}
    assert post(counter, "discount", order.number, **form).status_code == 302
    assert Invoice.objects.get().discount_percent == Decimal("12.50")
    page = counter.get(reverse("order-money", args=[order.number])).content.decode()
    assert "€87.50" in page
    assert 'value="12.5"' in page


@pytest.mark.parametrize(("percent", "reason"), [("12", ""), ("120", "love"), ("some", "love")])
def test_a_discount_that_makes_no_sense_is_explained(order, counter, percent, reason):
    form = {"discount-percent": percent, "discount-reason": reason}
    assert post(counter, "discount", order.number, **form).status_code == 422
    assert not Invoice.objects.exists()


def test_amounts_are_written_as_the_workshop_writes_them(order, counter):
    factories.workshop(number_format="1.234,50", currency="CHF")
    build.line(order, "Refret", "1234.50")
    page = counter.get(reverse("order-money", args=[order.number])).content.decode()
    assert "1.334,50\u00a0CHF" in page
