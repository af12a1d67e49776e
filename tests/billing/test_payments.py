"""Deposits, payments in parts, money given back, entries taken back."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from shop.billing import services
from shop.billing.account import account_of
from shop.billing.models import Invoice, Payment
from shop.billing.states import InvoiceState
from tests import factories
from tests import money_builders as build

D = Decimal


@pytest.fixture
def order(cleo):
    return build.order(cleo, lines=[("Setup", "100.00")])


def pay(order, amount, by, **fields):
    fields.setdefault("kind", "card")
    fields.setdefault("key", build.key())
    return services.receive(order, amount=D(amount), by=by, **fields)


def state_of(order):
    return Invoice.objects.get(order=order, kind="invoice").balance.state


def test_money_before_the_invoice_is_a_deposit_and_counts(cleo, order):
    assert pay(order, "30", cleo).is_deposit
    services.issue(order, by=cleo)
    assert account_of(order, factories.workshop()).to_pay == D("70.00")
    assert state_of(order) == InvoiceState.PART_PAID


def test_payments_in_parts_settle_the_invoice(cleo, order):
    services.issue(order, by=cleo)
    states = [state_of(order)]
    for amount in ("40", "35.50", "24.50"):
        pay(order, amount, cleo)
        states.append(state_of(order))
    assert states == ["open", "part_paid", "part_paid", "paid"]
    assert account_of(order, factories.workshop()).is_settled


def test_a_deposit_that_covers_all_leaves_nothing_open(cleo, order):
    pay(order, "100", cleo)
    services.issue(order, by=cleo)
    assert state_of(order) == InvoiceState.PAID


def test_more_than_is_open_is_refused(cleo, order):
    services.issue(order, by=cleo)
    with pytest.raises(services.MoneyRefused, match=r"Only €100\.00 is open\."):
        pay(order, "100.01", cleo)


@pytest.mark.parametrize("amount", ["0", "-5", "0.004"])
def test_nothing_or_less_is_not_received(cleo, order, amount):
    with pytest.raises(services.MoneyRefused, match="above zero"):
        pay(order, amount, cleo)


def test_not_on_a_day_to_come(cleo, order):
    with pytest.raises(services.MoneyRefused, match="a day to come"):
        pay(order, "5", cleo, received_on=timezone.localdate() + timedelta(days=1))


def test_one_press_of_the_button_is_one_payment(cleo, order):
    key = build.key()
    first = pay(order, "30", cleo, key=key)
    assert pay(order, "30", cleo, key=key).pk == first.pk
    assert Payment.objects.count() == 1


def test_a_key_of_another_order_is_refused(cleo, order):
    key = build.key()
    pay(order, "30", cleo, key=key)
    other = build.order(cleo, instrument=order.instrument)
    with pytest.raises(services.MoneyRefused, match="belongs to another order"):
        pay(other, "30", cleo, key=key)


def give_back(order, amount, by, reason="Overpaid."):
    return services.give_back(order, amount=D(amount), kind="cash", key=build.key(), by=by, reason=reason)


def test_a_deposit_can_be_given_back_with_a_reason(cleo, order):
    pay(order, "30", cleo)
    assert give_back(order, "30", cleo).amount == D("-30.00")
    assert account_of(order, factories.workshop()).received == 0


@pytest.mark.parametrize(
    ("amount", "reason", "said"),
    [
        ("30.01", "x", r"At most €30\.00 can be given back\."),
        ("10", " ", "Say why"),
        ("0", "x", "above zero"),
        ("-3", "x", "above zero"),
    ],
)
def test_giving_back_is_guarded(cleo, order, amount, reason, said):
    pay(order, "30", cleo)
    with pytest.raises(services.MoneyRefused, match=said):
        give_back(order, amount, cleo, reason)


def test_what_an_invoice_needs_is_not_given_back(cleo, order):
    pay(order, "120", cleo)
    services.issue(order, by=cleo)
    with pytest.raises(services.MoneyRefused, match=r"At most €20\.00 can be given back\. A credit note comes before"):
        give_back(order, "21", cleo)
    give_back(order, "20", cleo)
    assert state_of(order) == InvoiceState.PAID


def test_a_mistaken_entry_is_taken_back_by_a_second_one(cleo, order):
    services.issue(order, by=cleo)
    wrong = pay(order, "100", cleo)
    undo = services.undo_payment(wrong, reason="Typed for the wrong order.", key=build.key(), by=cleo)
    assert (undo.amount, undo.undoes) == (D("-100.00"), wrong)
    assert state_of(order) == InvoiceState.OPEN


def test_an_entry_is_taken_back_once(cleo, order):
    wrong = pay(order, "100", cleo)
    undo = services.undo_payment(wrong, reason="Wrong order.", key=build.key(), by=cleo)
    for one in (wrong, undo):
        with pytest.raises(services.MoneyRefused, match="taken back already"):
            services.undo_payment(one, reason="Again.", key=build.key(), by=cleo)
    with pytest.raises(services.MoneyRefused, match="Say what was wrong"):
        services.undo_payment(pay(order, "1", cleo), reason=" ", key=build.key(), by=cleo)


def test_what_was_taken_back_does_not_stand_on_the_invoice(cleo, order):
    wrong = pay(order, "99", cleo)
    services.undo_payment(wrong, reason="Wrong order.", key=build.key(), by=cleo)
    pay(order, "10", cleo)
    assert [one["amount"] for one in services.issue(order, by=cleo).snapshot["received"]] == ["10.00"]


@pytest.mark.parametrize("amount", [0, -5])
def test_the_database_wants_an_amount_and_a_reason(cleo, order, amount):
    with pytest.raises(IntegrityError), transaction.atomic():
        Payment.objects.create(
            order=order, branch=order.branch, amount=D(amount), received_on=timezone.localdate(), key=build.key(),
            at=timezone.now(), by=cleo,
        )  # fmt: skip


def test_every_entry_stands_in_the_history(cleo, order):
    paid = pay(order, "30", cleo, kind="cash")
    give_back(order, "10", cleo)
    services.undo_payment(paid, reason="Wrong order.", key=build.key(), by=cleo)
    assert [event.text for event in order.events.all()] == [
        "Deposit of €30.00 received (cash).",
        "€10.00 given back (cash): Overpaid.",
        "Entry of €30.00 (cash) taken back: Wrong order.",
    ]
