"""Saving and evaluating take the same few queries, however many readings there are."""

import uuid

import pytest

from shop.worksheets import services
from shop.worksheets.evaluation import evaluate
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def sheet(ben):
    factories.workshop()
    made = build.worksheet(build.at_bench(factories.instrument(), ben), ben)
    build.store(made, ben, build.good_values())
    return made


def save(sheet, by):
    return services.save_reading(
        sheet, client_id=uuid.uuid4(), stage="bench", step="relief", key="relief", string=None, raw="0.2", by=by
    )


def test_saving(sheet, ben, ada, django_assert_num_queries):
    with django_assert_num_queries(7):  # two of them begin and end the transaction
        save(sheet, ben)
    build.store(sheet, ada, build.good_values())
    with django_assert_num_queries(7):
        save(sheet, ada)


def test_saving_under_a_step_that_rests_on_it(sheet, ben, django_assert_num_queries):
    services.mark_done(sheet, step="height", by=ben)
    with django_assert_num_queries(10):  # the whole sheet in three more
        save(sheet, ben)


def test_evaluating(sheet, ben, ada, django_assert_num_queries):
    with django_assert_num_queries(5):
        assert evaluate(sheet).numbers["side"]
    build.store(sheet, ada, build.good_values())
    with django_assert_num_queries(5):
        evaluate(sheet)


def test_who_typed_what_is_known_while_rivals_wait(sheet, ben, ada, django_assert_num_queries):
    save(sheet, ben)
    services.save_reading(
        sheet, client_id=uuid.uuid4(), stage="bench", step="relief", key="relief", string=None, raw="0.3", by=ada
    )
    with django_assert_num_queries(6):
        assert {str(one.by) for one in evaluate(sheet).sheet.all_rivals} == {"Ada"}
