"""Next year's worksheet starts from how the instrument was left."""

import pytest

from shop.orders.states import State
from shop.worksheets import queries, services
from shop.worksheets.compare import compare
from shop.worksheets.evaluation import evaluate
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def returning(ben):
    """An instrument that was set up, checked and collected."""
    guitar = factories.instrument()
    order = build.at_bench(guitar, ben)
    services.sign_off(build.finished(order, ben), by=ben)
    type(order).objects.filter(pk=order.pk).update(state=State.COLLECTED)
    return guitar


def test_how_it_was_left_is_there_before_anything_is_read(returning, ben):
    services.start_worksheet(build.at_bench(returning, ben), by=ben)
    left = queries.last_left(returning)
    assert left["relief", None].value == 0.2
    assert left["octave", 6].value == 0.3


def test_as_received_is_shown_against_it(returning, ben):
    sheet = services.start_worksheet(build.at_bench(returning, ben), by=ben)
    build.store(sheet, ben, {"received.relief": 0.38})
    row = next(one for one in compare(sheet) if one.key == "relief")
    assert (row.last_left, row.received, row.left) == (0.2, 0.38, None)
    assert row.drift == pytest.approx(0.18)


def test_a_heavier_set_is_said_with_the_change_of_load(returning, ben):
    """T = μ(2Lf)²: a plain string 10 % thicker pulls 21 % more at the same pitch (Mersenne)."""
    order = build.at_bench(returning, ben)
    rows = [(*row[:3], row[3] * 1.1, row[4] and row[4] * 1.1) for row in build.SIX]
    sheet = build.worksheet(order, ben, strings=build.strings(rows))
    evaluation = evaluate(sheet)
    load = evaluation.numbers["load"]
    assert load["total_n"] / load["before_n"] == pytest.approx(1.21, rel=1e-9)
    assert "more than with the strings it left with last time" in evaluation.finding("load_change").headline


def test_the_same_set_says_nothing_of_a_change(returning, ben):
    evaluation = evaluate(build.worksheet(build.at_bench(returning, ben), ben))
    assert evaluation.finding("load_change") is None
    assert evaluation.finding("load").verdict == "stated"


def test_a_first_visit_has_nothing_to_compare_with(ben):
    guitar = factories.instrument()
    sheet = build.worksheet(build.at_bench(guitar, ben), ben)
    build.store(sheet, ben, {"received.relief": 0.38})
    assert queries.last_left(guitar) == {}
    assert all(row.last_left is None and row.drift is None for row in compare(sheet))
