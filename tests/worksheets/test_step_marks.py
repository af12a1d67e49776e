"""Steps are done, left out with a reason, opened again, and remarked on."""

import pytest

from shop.orders.models import Event
from shop.worksheets import services
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def sheet(ben):
    return build.worksheet(build.at_bench(factories.instrument(), ben), ben)


def test_done_is_marked_with_who_and_when(sheet, ben):
    mark = services.mark_done(sheet, step="relief", by=ben)
    assert (mark.state, mark.by, mark.reason) == ("done", ben, "")
    assert Event.objects.get(what="step_done").text == "Neck relief: done."


def test_done_twice_is_one_mark(sheet, ben, ada):
    services.mark_done(sheet, step="relief", by=ben)
    services.mark_done(sheet, step="relief", by=ada)
    assert sheet.marks.get().by == ada


def test_leaving_out_needs_a_reason(sheet, ben):
    with pytest.raises(ValueError, match="Say why"):
        services.skip_step(sheet, step="relief", reason="  ", by=ben)
    assert not sheet.marks.exists()


def test_leaving_out_keeps_the_reason(sheet, ben):
    services.skip_step(sheet, step="relief", reason="No rod.", by=ben)
    assert (sheet.marks.get().state, sheet.marks.get().reason) == ("skipped", "No rod.")


def test_the_last_step_cannot_be_left_out(sheet, ben):
    with pytest.raises(ValueError, match="cannot be left out"):
        services.skip_step(sheet, step="left", reason="In a hurry.", by=ben)


def test_a_mark_can_be_taken_back(sheet, ben):
    services.mark_done(sheet, step="relief", by=ben)
    services.take_back_mark(sheet, step="relief", by=ben)
    assert not sheet.marks.exists()
    assert Event.objects.filter(what="step_open").count() == 1


def test_taking_back_nothing_writes_nothing(sheet, ben):
    services.take_back_mark(sheet, step="relief", by=ben)
    assert not Event.objects.exists()


def test_remarks_are_added_not_replaced(sheet, ben, ada):
    services.add_step_note(sheet, step="nut", text="Slot 3 is worn.", by=ben)
    services.add_step_note(sheet, step="nut", text="Agreed by telephone.", by=ada)
    assert [(one.text, one.by) for one in sheet.notes.all()] == [
        ("Slot 3 is worn.", ben), ("Agreed by telephone.", ada),
    ]  # fmt: skip


@pytest.mark.parametrize("text", ["  ", "x" * 2001])
def test_an_empty_or_endless_remark_is_refused(sheet, ben, text):
    with pytest.raises(ValueError, match=r"\.$"):
        services.add_step_note(sheet, step="nut", text=text, by=ben)


def test_an_unknown_step_is_refused(sheet, ben):
    with pytest.raises(services.UnknownPlace):
        services.mark_done(sheet, step="belfry", by=ben)


def test_a_signed_sheet_refuses_marks(sheet, ben):
    sheet.signed_at = sheet.started_at
    sheet.save(update_fields=["signed_at"])
    with pytest.raises(services.SheetClosed):
        services.mark_done(sheet, step="relief", by=ben)
