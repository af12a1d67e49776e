"""How an instrument was left, over the years."""

from datetime import timedelta

import pytest

from shop.worksheets import queries
from shop.worksheets.compare import compare
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def guitar(db):
    return factories.instrument()


def visit(guitar, by, values, *, days_ago, signed=True):
    sheet = build.worksheet(build.at_bench(guitar, by), by)
    build.store(sheet, by, values)
    sheet.started_at -= timedelta(days=days_ago)
    sheet.signed_at = sheet.started_at if signed else None
    sheet.save(update_fields=["started_at", "signed_at"])
    return sheet


def test_every_as_left_value_oldest_first(guitar, ben):
    visit(guitar, ben, {"left.relief": 0.30, "relief": 0.9}, days_ago=10)
    visit(guitar, ben, {"left.relief": 0.20, "left.octave:1": 0.4}, days_ago=400)
    history = queries.as_left_history(guitar)
    assert [one.value for one in history["relief", None]] == [0.20, 0.30]
    assert [one.value for one in history["octave", 1]] == [0.4]


def test_a_corrected_value_counts_once(guitar, ben):
    visit(guitar, ben, {"left.relief": [0.50, 0.25]}, days_ago=10)
    assert [one.value for one in queries.as_left_history(guitar)["relief", None]] == [0.25]


def test_a_withdrawn_value_does_not_count(guitar, ben):
    visit(guitar, ben, {"left.relief": [0.50, None]}, days_ago=10)
    assert queries.as_left_history(guitar) == {}


def test_an_unsigned_sheet_and_another_instrument_do_not_count(guitar, ben):
    visit(guitar, ben, {"left.relief": 0.3}, days_ago=1, signed=False)
    visit(factories.instrument(guitar.customer), ben, {"left.relief": 0.4}, days_ago=1)
    assert queries.as_left_history(guitar) == {}
    assert queries.last_left(guitar) == {}


def test_last_left_is_the_newest_signed_sheet(guitar, ben):
    visit(guitar, ben, {"left.relief": 0.20}, days_ago=400)
    newest = visit(guitar, ben, {"left.relief": 0.30}, days_ago=10)
    found = queries.last_left(guitar)["relief", None]
    assert (found.value, found.worksheet_id, found.at) == (0.30, newest.pk, newest.signed_at)


def test_a_new_sheet_compares_with_how_it_was_left_before_it(guitar, ben):
    visit(guitar, ben, {"left.relief": 0.20}, days_ago=400)
    now = visit(guitar, ben, {"received.relief": 0.45, "left.relief": 0.25}, days_ago=0)
    row = next(one for one in compare(now) if one.key == "relief")
    assert (row.last_left, row.received, row.left) == (0.20, 0.45, 0.25)
    assert row.drift == pytest.approx(0.25)
    assert (row.received_verdict, row.left_verdict, row.mended) == ("out_of_range", "in_range", True)


def test_history_is_one_query(guitar, ben, django_assert_num_queries):
    for days in (10, 400, 800):
        visit(guitar, ben, {"left.relief": 0.20, "left.octave:1": 0.4}, days_ago=days)
    with django_assert_num_queries(1):
        queries.as_left_history(guitar)
