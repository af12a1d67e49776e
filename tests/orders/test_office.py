"""The office: what somebody has to look after today. And where each role begins."""

from datetime import timedelta

import pytest

from shop.lib.dates import today
from shop.orders import office
from shop.orders.models import WorkOrder
from shop.orders.states import State
from tests import factories
from tests.counter_builders import booked
from tests.counting import stays_the_same

pytestmark = pytest.mark.django_db


def made(by, state, **fields):
    order = booked(by, customer=factories.customer(name=f"{state}"))
    WorkOrder.objects.filter(pk=order.pk).update(state=state, **fields)
    return order


def test_everything_lies_on_its_pile(cleo):
    late = made(cleo, State.ON_BENCH, promised_on=today() - timedelta(days=3))
    due = made(cleo, State.AGREED, promised_on=today())
    waiting = made(cleo, State.WAITING_PARTS, state_reason="studs")
    ready, left = made(cleo, State.READY), made(cleo, State.UNCOLLECTED)
    fresh = made(cleo, State.BOOKED_IN)
    made(cleo, State.COLLECTED, promised_on=today() - timedelta(days=3))
    now = office.Office.now(cleo)
    assert now.late.orders == [late]
    assert now.week.orders == [due]
    assert now.waiting.orders == [waiting]
    assert set(now.ready.orders) == {ready, left}
    assert now.not_started.orders == [fresh]


def test_it_says_for_what_and_since_when(as_person, ada, cleo):
    order = made(cleo, State.WAITING_PARTS, state_reason="studs, M8")
    WorkOrder.objects.filter(pk=order.pk).update(state_since=order.state_since - timedelta(days=3))
    text = as_person(ada).get("/office/").content.decode()
    assert "studs, M8" in text
    assert "for 3 days" in text


def test_a_pile_too_high_says_how_high(as_person, ada, cleo, monkeypatch):
    monkeypatch.setattr(office, "MOST", 2)
    for _ in range(5):
        made(cleo, State.BOOKED_IN)
    now = office.Office.now(cleo)
    assert (len(now.not_started.orders), now.not_started.count, now.not_started.more) == (2, 5, 3)
    assert "All 5" in as_person(ada).get("/office/").content.decode()


def test_an_empty_office_says_so(as_person, ada):
    text = as_person(ada).get("/office/").content.decode()
    for said in ("Nothing is late.", "Nothing waits.", "Every order that came in has its answer."):
        assert said in text


def test_before_the_first_instrument_the_owner_is_told_where_to_begin(as_person, ada, cleo):
    said, steps = "Before the first instrument comes in", ("/prices/", "/office/staff/", "/office/data/", "/counter/")
    text = as_person(ada).get("/office/").text
    assert said in text
    assert all(f'href="{step}"' in text.split(said)[1].split("</ol>")[0] for step in steps)
    assert said not in as_person(cleo).get("/office/").text
    booked(cleo)
    assert said not in as_person(ada).get("/office/").text


def test_it_asks_as_much_of_twice_as_many(as_person, ada, cleo):
    def one_of_each():
        for state in (State.ON_BENCH, State.WAITING_PARTS, State.READY, State.BOOKED_IN):
            made(cleo, state, promised_on=today() - timedelta(days=1))

    one_of_each()
    stays_the_same(as_person(ada), "/office/", one_of_each)


@pytest.mark.parametrize(("who", "address"), [("cleo", "/counter/"), ("ben", "/bench/"), ("ada", "/office/")])
def test_each_begins_at_their_own_place(as_person, request, who, address):
    assert as_person(request.getfixturevalue(who)).get("/")["Location"] == address
