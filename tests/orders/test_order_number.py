"""Numbers people can say: the year, and a count that begins anew with it."""

from datetime import date

import pytest

from shop.orders import finding
from shop.orders.services import booking as module
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db


def test_year_and_count(cleo, monkeypatch):
    monkeypatch.setattr(module, "today", lambda: date(2026, 12, 31))
    assert [booked(cleo).number for _ in range(2)] == ["26-0001", "26-0002"]
    monkeypatch.setattr(module, "today", lambda: date(2027, 1, 1))
    assert booked(cleo).number == "27-0001"


@pytest.fixture
def order(cleo, monkeypatch):
    for place in (module, finding):
        monkeypatch.setattr(place, "today", lambda: date(2026, 11, 25))
    return booked(cleo)


@pytest.mark.parametrize(
    "said",
    ["26-0001", "26 0001", "260001", "26/0001", "26–0001", " 26-0001 ", "1", "01", "0001",
     "http://127.0.0.1:8000/t/26-0001/", "https://shop.example.com/t/26-0001", "/orders/26-0001/"],
)  # fmt: skip
def test_as_said_typed_or_scanned(said, order):
    assert finding.order_said(said, order.booked_by) == order


@pytest.mark.parametrize("said", ["26-0002", "2", "", "26", "/t/26-0002/", "26-00011", "x" * 300, "26-0001; DROP"])
def test_another_number_is_another_order(said, order):
    assert finding.order_said(said, order.booked_by) is None


def test_a_short_number_is_this_years_and_else_last_years(order, monkeypatch):
    monkeypatch.setattr(finding, "today", lambda: date(2027, 2, 1))
    assert finding.order_said("1", order.booked_by) == order
    monkeypatch.setattr(module, "today", lambda: date(2027, 2, 1))
    newer = booked(order.booked_by)
    assert finding.order_said("1", order.booked_by) == newer
