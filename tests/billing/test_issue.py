"""Issuing an invoice: a number, and everything on it frozen."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from shop.billing import services
from shop.billing.models import Invoice
from shop.orders import services as orders
from shop.orders.models import Agreement
from shop.orders.states import State
from tests import factories
from tests import money_builders as build


def test_an_issued_invoice_has_the_next_number_of_its_year(cleo):
    first = services.issue(build.order(cleo), by=cleo)
    second = services.issue(build.order(cleo, instrument=first.order.instrument), by=cleo)
    year = f"{timezone.localdate():%y}"
    assert [first.number, second.number] == [f"R{year}-0001", f"R{year}-0002"]


def test_it_bills_the_agreed_lines_only(cleo):
    order = build.order(cleo, lines=[("Setup", "85.00")])
    build.line(order, "New nut", "60.00", agreement=Agreement.PROPOSED)
    build.line(order, "Refret", "300.00", agreement=Agreement.DECLINED)
    assert services.issue(order, by=cleo).total == Decimal("85.00")


def test_it_is_due_after_the_workshops_days_to_pay(cleo):
    factories.workshop(payment_days=10)
    invoice = services.issue(build.order(cleo), by=cleo)
    assert invoice.due_on - invoice.issued_on == timedelta(days=10)


def test_it_keeps_everything_as_it_stood(cleo):
    factories.workshop(name="Old Mill Guitars", tax_name="VAT", invoice_terms="Thank you.")
    order = build.order(cleo, lines=[("Setup", "85.00", "1", "20"), ("Strings", "9.50", "2", "20")])
    services.receive(order, amount=Decimal(20), kind="cash", key=build.key(), by=cleo)
    kept = services.issue(order, by=cleo).snapshot
    factories.workshop(name="New Mill Guitars")
    order.customer.name = "Somebody Else"
    order.customer.save(update_fields=["name"])
    kept_now = Invoice.objects.get().snapshot
    assert kept_now == kept
    assert (kept["seller"]["name"], kept["buyer"]["name"]) == ("Old Mill Guitars", "Mara Fell")
    assert kept["terms"] == "Thank you."
    assert [line["amount"] for line in kept["lines"]] == ["85.00", "19.00"]
    assert (kept["total"], kept["paid"], kept["due"]) == ("104.00", "20.00", "84.00")
    assert kept["received"][0] | {"on": ""} == {"on": "", "how": "cash", "amount": "20.00", "is_deposit": True}


def test_the_orders_lines_are_fixed(cleo):
    order = build.order(cleo)
    invoice = services.issue(order, by=cleo)
    with pytest.raises(orders.NotAllowed, match=f"The lines are fixed by invoice {invoice.number}"):
        orders.need_open_lines(order)


def test_issuing_again_gives_the_same_invoice(cleo):
    order = build.order(cleo)
    assert services.issue(order, by=cleo).pk == services.issue(order, by=cleo).pk
    assert Invoice.objects.count() == 1


def test_who_issued_it_stands_in_the_history(cleo):
    order = build.order(cleo)
    invoice = services.issue(order, by=cleo)
    last = order.events.last()
    assert (last.what, last.by, last.text) == ("invoice_issued", cleo, f"Invoice {invoice.number} issued over €85.00.")


@pytest.mark.parametrize("state", [State.BOOKED_IN, State.QUOTED, State.AGREED, State.ON_BENCH, State.WAITING_PARTS])
def test_not_before_the_work_is_checked(cleo, state):
    order = build.order(cleo, state=state)
    with pytest.raises(services.MoneyRefused, match="its invoice is issued once the work is checked"):
        services.issue(order, by=cleo)
    assert not Invoice.objects.exists()


def test_nothing_agreed_is_nothing_to_bill(cleo):
    with pytest.raises(services.MoneyRefused, match="Nothing is agreed that could be billed"):
        services.issue(build.order(cleo, lines=[]), by=cleo)


def test_a_refused_invoice_takes_no_number(cleo):
    empty = build.order(cleo, lines=[])
    with pytest.raises(services.MoneyRefused):
        services.issue(empty, by=cleo)
    assert services.issue(build.order(cleo, instrument=empty.instrument), by=cleo).number.endswith("-0001")


def test_the_year_is_the_shops_own(cleo, monkeypatch):
    monkeypatch.setattr("shop.billing.services.issuing.today", lambda: date(2027, 1, 1))
    assert services.issue(build.order(cleo), by=cleo).number == "R27-0001"


def test_a_discount_stands_on_the_invoice(cleo):
    order = build.order(cleo, lines=[("Setup", "100.00")])
    services.set_discount(order, percent=Decimal(10), reason="returning customer", by=cleo)
    invoice = services.issue(order, by=cleo)
    assert invoice.total == Decimal("90.00")
    assert (invoice.snapshot["discount"], invoice.snapshot["discount_reason"]) == ("10.00", "returning customer")


@pytest.mark.parametrize(
    ("percent", "reason", "said"),
    [(10, " ", "Say what the discount is for"), (101, "love", "between 0 and 100"), (-1, "spite", "between 0 and 100")],
)
def test_a_discount_needs_a_reason_and_sense(cleo, percent, reason, said):
    with pytest.raises(services.MoneyRefused, match=said):
        services.set_discount(build.order(cleo), percent=Decimal(percent), reason=reason, by=cleo)
