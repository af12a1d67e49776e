"""The promise follows what the bench already carries. 25 November 2026 is a Wednesday; a day has six hours."""

from datetime import date
from decimal import Decimal

import pytest

from shop.orders import services
from shop.orders.models import Agreement
from shop.orders.promising import Carried
from shop.orders.services import NewLine
from shop.orders.states import State
from shop.staff.models import Workshop
from tests import factories
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db
WEDNESDAY = date(2026, 11, 25)
SIX = Workshop(bench_hours_a_day=Decimal("6.0"))


def work(minutes, text="Setup"):
    return NewLine(text, Decimal(85), Decimal(20), minutes=minutes)


def order(by, minutes, **fields):
    return booked(by, customer=factories.customer(name=f"{minutes}"), lines=(work(minutes),), **fields)


@pytest.mark.parametrize(
    ("minutes", "day"),
    [(0, date(2026, 11, 26)), (60, date(2026, 11, 26)), (360, date(2026, 11, 26)), (361, date(2026, 11, 27)),
     (1080, date(2026, 11, 30)), (-5, date(2026, 11, 26))],
)  # fmt: skip
def test_an_empty_bench(minutes, day):
    proposal = Carried.here(SIX, now=WEDNESDAY).proposal(minutes)
    assert (proposal.day, proposal.sentence) == (day, "The bench is free.")


def test_what_it_carries_comes_first(cleo):
    order(cleo, 300)
    order(cleo, 400)
    proposal = Carried.here(SIX, now=WEDNESDAY).proposal(90)
    assert proposal.minutes_before == 700
    assert proposal.sentence == "The bench carries 11 h 40 min in 2 orders."
    assert proposal.day == date(2026, 11, 30)  # 790 minutes are three days of 360, over the weekend


@pytest.mark.parametrize("state", [State.CHECKED, State.READY, State.COLLECTED, State.DECLINED])
def test_what_is_done_is_not_carried(cleo, state):
    done = order(cleo, 300)
    type(done).objects.update(state=state)
    assert Carried.here(SIX, now=WEDNESDAY).proposal(0).orders_before == 0


def test_declined_lines_take_no_time(cleo):
    one = booked(cleo, lines=(work(300), work(60, "Wire")))
    services.answer_lines(one, [one.lines.first()], Agreement.DECLINED, how="by telephone", by=cleo)
    assert Carried.here(SIX, now=WEDNESDAY).proposal(0).minutes_before == 60


def test_an_order_that_nobody_estimated_takes_an_hour(cleo):
    booked(cleo)
    assert Carried.here(SIX, now=WEDNESDAY).proposal(0).minutes_before == 60


def test_half_an_hour_a_day_is_a_long_time():
    short = Workshop(bench_hours_a_day=Decimal("0.5"))
    assert Carried.here(short, now=WEDNESDAY).proposal(300).day == date(2026, 12, 9)


def test_it_costs_five_queries(cleo, django_assert_num_queries):
    order(cleo, 30)
    with django_assert_num_queries(5):
        Carried.here(SIX, now=WEDNESDAY).proposal(0)
