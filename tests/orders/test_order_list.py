"""The list of orders: what is asked for stands in its address."""

from datetime import timedelta

import pytest

from shop.lib.dates import today, week_of
from shop.orders.models import WorkOrder
from shop.orders.states import State
from tests import factories
from tests.counter_builders import booked
from tests.counting import stays_the_same

pytestmark = pytest.mark.django_db


def made(by, name, state, **fields):
    order = booked(by, customer=factories.customer(name=name))
    WorkOrder.objects.filter(pk=order.pk).update(state=state, **fields)
    return order


@pytest.fixture
def shop(cleo):
    yesterday, sunday = today() - timedelta(days=1), week_of(today())[1]
    made(cleo, "Late", State.ON_BENCH, promised_on=yesterday)
    made(cleo, "Week", State.AGREED, promised_on=sunday)
    made(cleo, "Parts", State.WAITING_PARTS, state_reason="studs")
    made(cleo, "Ready", State.READY, promised_on=yesterday)
    made(cleo, "Fresh", State.BOOKED_IN)
    made(cleo, "Gone", State.COLLECTED)


def names(client, query):
    return {order.customer.name for order in client.get(f"/orders/{query}").context["page"]}


@pytest.mark.parametrize(
    ("query", "shown"),
    [
        ("", {"Late", "Week", "Parts", "Ready", "Fresh"}),
        ("?show=late", {"Late"}),
        ("?show=waiting", {"Parts"}),
        ("?show=ready", {"Ready"}),
        ("?show=not-started", {"Fresh"}),
        ("?show=bench", {"Late", "Week", "Parts"}),
        ("?show=all", {"Late", "Week", "Parts", "Ready", "Fresh", "Gone"}),
        ("?show=all&state=collected", {"Gone"}),
        ("?state=collected", set()),
        ("?q=gone", {"Gone"}),
        ("?q=gone&show=open", set()),
        ("?show=nonsense", {"Late", "Week", "Parts", "Ready", "Fresh"}),
        ("?state=nonsense&sort=nonsense&page=-3", {"Late", "Week", "Parts", "Ready", "Fresh"}),
    ],
)
def test_what_is_asked_for(as_person, ben, shop, query, shown):
    assert names(as_person(ben), query) == shown


def test_promised_this_week(as_person, ben, shop):
    assert "Week" in names(as_person(ben), "?show=week")
    assert "Ready" not in names(as_person(ben), "?show=week")


def test_over_all_the_years_only_what_an_index_carries_sorts(as_person, ben, shop):
    client = as_person(ben)
    whole, open_ones = (client.get(f"/orders/?show={show}").context["sorting"].offered for show in ("all", "open"))
    assert set(whole) == {"number", "booked"}
    assert set(open_ones) == {"number", "booked", "customer", "promised", "rack", "since"}


def test_without_a_promise_stands_last_either_way(as_person, ben, shop):
    client = as_person(ben)
    for sort in ("promised", "-promised"):
        rows = [one.promised_on for one in client.get(f"/orders/?sort={sort}").context["page"]]
        dated = [one for one in rows if one]
        assert rows[: len(dated)] == sorted(dated, reverse=sort.startswith("-"))


def test_it_turns_pages_and_keeps_what_was_asked(as_person, ben, cleo):
    one = factories.instrument()
    for _ in range(45):
        booked(cleo, instrument=one)
    client = as_person(ben)
    assert "?show=all&amp;page=2" in client.get("/orders/?show=all").content.decode()
    assert len(client.get("/orders/?show=all&page=2").context["page"].object_list) == 5


def test_it_asks_as_much_of_twice_as_many(as_person, ben, cleo):
    def six_more():
        for number in range(6):
            booked(cleo, customer=factories.customer(name=f"Fell {number}"))

    six_more()
    stays_the_same(as_person(ben), "/orders/?q=fell", six_more)


def test_it_says_when_there_is_nothing(as_person, ben):
    client = as_person(ben)
    assert "begins at the counter" in client.get("/orders/").content.decode()
    assert "No order fits that" in client.get("/orders/?q=nobody").content.decode()


def test_post_is_refused(as_person, ben):
    assert as_person(ben).post("/orders/").status_code == 405
