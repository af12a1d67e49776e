"""The bench's list: what to do next, what waits and for what."""

from datetime import date

import pytest

from shop.orders.states import State
from shop.worksheets import listing
from shop.worksheets.shown import bench as shown
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


def bench_list(person, sort=""):
    """(to do, waiting) as the bench's page has them."""
    orders, _ = listing.bench(None, {"sort": sort})
    to_do, waiting = shown.bench(list(orders), person, today=date(2026, 11, 1))
    return [one.job for one in to_do], [one.job for one in waiting]


@pytest.fixture
def guitar(db):
    return factories.instrument()


def test_nearest_promise_first_and_without_a_promise_last(guitar, ben):
    later = build.at_bench(guitar, ben, promised_on=date(2026, 12, 4))
    never = build.at_bench(guitar, ben)
    sooner = build.at_bench(guitar, ben, promised_on=date(2026, 12, 1))
    todo, waiting = bench_list(ben)
    assert [job.order for job in todo] == [sooner, later, never]
    assert waiting == []


def test_what_waits_says_for_what(guitar, ben):
    build.at_bench(guitar, ben, state=State.WAITING_PARTS)
    todo, waiting = bench_list(ben)
    assert todo == []
    assert waiting[0].waits_for == "waiting for parts"


def test_orders_that_are_not_for_the_bench_are_not_there(guitar, ben):
    for state in (State.BOOKED_IN, State.QUOTED, State.READY, State.COLLECTED):
        build.at_bench(guitar, ben, state=state)
    assert bench_list(ben) == ([], [])


def test_a_job_comes_with_its_newest_worksheet_and_whose_it_is(guitar, ben, ada):
    order = build.at_bench(guitar, ben)
    build.worksheet(order, ada)
    newest = build.worksheet(order, ben)
    (job,), _ = bench_list(ben)
    assert (job.worksheet, job.is_mine) == (newest, True)
    assert bench_list(ada)[0][0].is_mine is False


def test_twice_the_orders_take_the_same_queries(guitar, ben, django_assert_num_queries):
    for _ in range(3):
        build.worksheet(build.at_bench(guitar, ben), ben)
    with django_assert_num_queries(3):
        bench_list(ben)
    for _ in range(3):
        build.worksheet(build.at_bench(guitar, ben), ben)
    with django_assert_num_queries(3):
        jobs, _ = bench_list(ben)
        assert all(job.order.customer.name and job.worksheet.started_by for job in jobs)
