"""Undo: the value before holds again, and the row stays."""

import uuid

import pytest

from shop.orders.models import Event
from shop.worksheets import services
from shop.worksheets.models import Reading
from shop.worksheets.sheet import Sheet
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def sheet(ben):
    return build.worksheet(build.at_bench(factories.instrument(), ben), ben)


def save(sheet, by, raw, basis=None):
    return services.save_reading(
        sheet, client_id=uuid.uuid4(), stage="bench", step="relief", key="relief", string=None, raw=raw, basis=basis,
        by=by,
    ).reading  # fmt: skip


def test_the_one_before_holds_again_and_nothing_is_deleted(sheet, ben):
    first = save(sheet, ben, "0.25")
    second = save(sheet, ben, "2.5", basis=first.pk)
    assert services.undo_reading(sheet, reading=second.pk, by=ben).reading == first
    assert Sheet.load(sheet).value("relief") == 0.25
    assert Reading.objects.count() == 2
    assert Event.objects.filter(what="reading_undone", by=ben).exists()


def test_a_withdrawal_can_be_undone(sheet, ben):
    first = save(sheet, ben, "0.25")
    gone = save(sheet, ben, "", basis=first.pk)
    services.undo_reading(sheet, reading=gone.pk, by=ben)
    assert Sheet.load(sheet).value("relief") == 0.25


def test_an_unreadable_one_can_be_undone(sheet, ben):
    typed = save(sheet, ben, "a hair")
    services.undo_reading(sheet, reading=typed.pk, by=ben)
    assert Sheet.load(sheet).unreadable(("bench", "relief", "relief", None)) is None


def test_only_the_newest_can_be_undone(sheet, ben):
    first = save(sheet, ben, "0.25")
    save(sheet, ben, "0.30", basis=first.pk)
    with pytest.raises(ValueError, match="Only the newest"):
        services.undo_reading(sheet, reading=first.pk, by=ben)


def test_undoing_the_only_one_leaves_the_field_empty(sheet, ben):
    only = save(sheet, ben, "0.25")
    assert services.undo_reading(sheet, reading=only.pk, by=ben).reading is None
    assert Sheet.load(sheet).value("relief") is None
