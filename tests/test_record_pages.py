"""What the pages of one record ask of the database: an order, a customer, an instrument."""

import pytest
from django.urls import reverse

from shop.billing import services as billing
from shop.orders import services as orders
from tests import counter_builders, factories, money_builders
from tests.counting import queries_of, stays_the_same
from tests.stock_builders import agreed, part
from tests.worksheet_builders import at_bench, worksheet

pytestmark = pytest.mark.django_db


def address(order):
    return reverse("order", args=[order.number])


def test_an_order_booked_in(as_person, ada, cleo):
    order = counter_builders.booked(cleo)
    client = as_person(ada)
    stays_the_same(client, address(order), lambda: [orders.add_note(order, "x", by=cleo) for _ in range(5)], most=19)


def test_an_order_that_is_invoiced(as_person, ada, cleo):
    order = money_builders.order(ada)
    billing.issue(order, by=ada)
    assert queries_of(as_person(ada), address(order)) <= 20


def test_an_order_with_parts_at_the_bench(as_person, ada, ben):
    order, _ = agreed(part(found=3, by=ada), ada)
    worksheet(orders.locked(order), ben)
    assert queries_of(as_person(ada), address(order)) <= 26


def test_a_signed_sheet_is_not_reckoned_again(as_person, ada, ben, monkeypatch):
    sheet = worksheet(at_bench(factories.instrument(), ben), ben)
    client = as_person(ada)
    page = client.get(address(sheet.order)).text
    assert "steps done" in page
    type(sheet).objects.filter(pk=sheet.pk).update(signed_at=sheet.started_at, signed_by=ben, spent_seconds=3900)
    monkeypatch.setattr("shop.worksheets.templatetags.worksheet_panels.evaluate", None)
    page = client.get(address(sheet.order)).text
    assert "1 h 05 min" in page
    assert "<strong>Signed</strong>" in page


def test_a_customer(as_person, ada):
    who = factories.customer(email="mara@example.com", phone="01632 960111", address="1 Mill Lane")
    billing.issue(money_builders.order(ada, instrument=factories.instrument(who)), by=ada)

    def more():
        for serial in ("LR-1", "LR-2", "LR-3"):
            billing.issue(money_builders.order(ada, instrument=factories.instrument(who, serial=serial)), by=ada)

    stays_the_same(as_person(ada), reverse("customer", args=[who.pk]), more, most=13)


def test_an_instrument(as_person, ada):
    one = factories.instrument(serial="LR-1")
    money_builders.order(ada, instrument=one)
    more = lambda: [money_builders.order(ada, instrument=one) for _ in range(3)]  # noqa: E731
    stays_the_same(as_person(ada), reverse("instrument", args=[one.pk]), more, most=12)
