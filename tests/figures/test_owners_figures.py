"""The owner's figures: added up in the database, and the same as counted by hand."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from shop.billing import services as billing
from shop.figures import ahead, charts, page, tables, views
from shop.figures.demo.clock import at
from shop.figures.models import KeptSum
from shop.orders.states import State
from shop.stock import services as shelf
from tests import money_builders
from tests.counting import queries_of
from tests.stock_builders import part

pytestmark = pytest.mark.django_db
MONTHS = [date(2026, 1, 1), date(2026, 2, 1)]


@pytest.fixture(autouse=True)
def time_enough(monkeypatch):
    """Nobody is told to wait, however busy the machine is."""
    monkeypatch.setattr(views, "AT_ONCE_S", 600)


def row(month, **fields):
    return {"month": month} | fields


def test_months_back_cross_the_year():
    assert tables.months_back(3, date(2026, 1, 20)) == [date(2025, 11, 1), date(2025, 12, 1), date(2026, 1, 1)]


def test_turnaround_is_told_in_steps_that_do_not_overlap():
    counted = row(MONTHS[1], days_3=2, days_7=5, days_14=6, days_28=6, count=7, days=45)
    assert tables.turnaround(MONTHS, [counted]).rows[1] == [MONTHS[1], 2, 3, 1, 0, 1, 6.4]
    assert tables.turnaround(MONTHS, [counted]).rows[0] == [MONTHS[0], 0, 0, 0, 0, 0, None]


def test_revenue_is_without_tax_and_discount_and_a_credit_note_takes_it_back():
    line = {"kind": "work", "tax_rate": Decimal(20), "discount": Decimal(10), "with_tax": True}
    rows = [row(MONTHS[0], sum=Decimal("120.00"), **line), row(MONTHS[1], sum=Decimal("-120.00"), **line)]
    found = tables.revenue(MONTHS, rows)
    assert found.column(1) == [Decimal("90.00"), Decimal("-90.00")]


def test_a_whole_shop_counted_by_hand(ada):
    booked = timezone.now() - timedelta(days=20)
    strings = part("Strings", kind="strings", cost=Decimal("5.00"))
    with at(booked):
        order = money_builders.order(ada)
        shelf.use(strings, Decimal(2), order_number=order.number, line_key=10_000, by=ada)
    with at(booked + timedelta(days=9)):
        invoice = billing.issue(order, by=ada)
    found = tables.tables_of(12)
    assert sum(found["turnaround"].column(3)) == 1
    assert sum(found["margin"].column(2)) == Decimal("10.00")
    assert abs(sum(found["revenue"].column(4)) - invoice.net) <= Decimal("0.02")


def test_an_instrument_that_comes_back_is_seen(ada):
    first = money_builders.order(ada)
    long_ago = timezone.now() - timedelta(days=60)
    type(first).objects.filter(pk=first.pk).update(
        state=State.COLLECTED, closed_at=long_ago, booked_at=long_ago - timedelta(days=5)
    )
    money_builders.order(ada, instrument=first.instrument)
    assert sum(tables.tables_of(12)["returns"].column(2)) == 1


def test_the_page_says_when_there_is_nothing(as_person, ada):
    text = as_person(ada).get("/figures/").text
    assert "No work was invoiced yet." in text
    assert "<svg class=\"fg\"" not in text


def test_the_page_asks_eight_questions_at_most_once_all_is_added_up(as_person, ada):
    billing.issue(money_builders.order(ada), by=ada)
    tables.tables_of(60)
    assert queries_of(as_person(ada), "/figures/?months=60") <= 8


def test_the_page_says_how_far_it_is_and_goes_on_by_itself(as_person, ada, monkeypatch):
    client = as_person(ada)
    monkeypatch.setattr(views, "AT_ONCE_S", -1)
    text = client.get("/figures/?months=24").text
    assert "0 of 24 months are added up." in text
    assert 'hx-get="?months=24"' in text
    monkeypatch.setattr(views, "AT_ONCE_S", 600)
    assert "No work was invoiced yet." in client.get("/figures/?months=24").text


def test_the_worker_adds_up_ahead_and_then_rests(ada):
    now = [0.0]
    keep_up = ahead.KeepUp(clock=lambda: now[0])
    while keep_up.next_at == 0.0:
        keep_up()
    assert KeptSum.objects.values("month").distinct().count() == 60
    KeptSum.objects.all().delete()
    keep_up()
    assert not KeptSum.objects.exists()
    now[0] = ahead.EVERY_S
    keep_up()
    assert KeptSum.objects.exists()


def test_csv_and_who_may(as_person, ada, ben):
    client = as_person(ada)
    table = b"".join(client.get("/figures/revenue.csv").streaming_content).decode("utf-8-sig")
    assert table.startswith("month,work,parts,string sets")
    assert client.get("/figures/nothing.csv").status_code == 404
    assert as_person(ben).get("/figures/").status_code == 403


@pytest.mark.parametrize("months", ["x", "¹", "-1", "9" * 5000])
def test_a_period_that_is_none_is_the_usual_one(as_person, ada, months):
    assert as_person(ada).get("/figures/", {"months": months}).context["months"] == tables.PERIODS[0]


@pytest.mark.parametrize("most", [0, 0.4, 3, 17, 99, 1234, 98765])
def test_an_axis_holds_its_highest_column_in_few_steps(most):
    top, step = charts.round_top(most)
    assert top >= most
    assert 1 <= top / step <= 5


def test_a_chart_says_in_words_what_it_shows():
    parts = [charts.Part("<work>", "fg-a", [1, 2])]
    svg = charts.columns("x", "Title & more", "Says.", MONTHS, parts)
    assert "&lt;work&gt;: 2" in svg
    assert "Title &amp; more" in svg
    assert 'role="img"' in svg


def test_nonsense_periods_fall_back():
    assert [page.period_of(one) for one in ("24", "7", "x", None, "-1", "٣")] == [24, 12, 12, 12, 12, 12]
