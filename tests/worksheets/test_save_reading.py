"""One reading: saved once, as typed, with who, when and which gauge."""

import uuid

import pytest

from shop.worksheets import services
from shop.worksheets.models import Reading, Standing
from shop.worksheets.sheet import Sheet
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db
RELIEF = ("bench", "relief", "relief", None)


@pytest.fixture
def sheet(ben):
    return build.worksheet(build.at_bench(factories.instrument(), ben), ben)


def save(sheet, by, raw, *, key="relief", step="relief", stage="bench", string=None, **more):
    more.setdefault("client_id", uuid.uuid4())
    return services.save_reading(sheet, stage=stage, step=step, key=key, string=string, raw=raw, by=by, **more)


def test_a_reading_is_kept_as_typed_with_its_value_gauge_and_writer(sheet, ben):
    saved = save(sheet, ben, " 0,25 mm ", gauge="feeler")
    stored = Reading.objects.get()
    assert (saved.status, saved.reading) == ("saved", stored)
    assert (stored.raw, stored.value, stored.gauge, stored.by) == ("0,25 mm", 0.25, "feeler", ben)
    assert stored.at is not None


def test_the_same_id_again_gives_the_same_answer_and_writes_nothing(sheet, ben):
    client_id = uuid.uuid4()
    first = save(sheet, ben, "0.25", client_id=client_id)
    again = save(sheet, ben, "0.25", client_id=client_id)
    assert Reading.objects.count() == 1
    assert (again.status, again.reading, again.repeated) == (first.status, first.reading, True)


def test_an_unreadable_one_is_kept_and_answered(sheet, ben):
    client_id = uuid.uuid4()
    saved = save(sheet, ben, "a thin card", client_id=client_id)
    assert saved.status == "unreadable"
    assert saved.problem.startswith("Write a length")
    kept = Sheet.load(sheet)
    assert kept.unreadable(RELIEF).raw == "a thin card"
    assert kept.value("relief") is None
    assert save(sheet, ben, "a thin card", client_id=client_id).problem == saved.problem


def test_an_unreadable_one_does_not_displace_what_holds(sheet, ben):
    first = save(sheet, ben, "0.25").reading
    save(sheet, ben, "0.3o", basis=first.pk)
    assert Sheet.load(sheet).value("relief") == 0.25


def test_a_readable_one_clears_the_unreadable(sheet, ben):
    save(sheet, ben, "0.3o")
    save(sheet, ben, "0.30")
    kept = Sheet.load(sheet)
    assert (kept.unreadable(RELIEF), kept.value("relief")) == (None, 0.30)


def test_an_empty_one_withdraws_and_keeps_history(sheet, ben):
    first = save(sheet, ben, "0.25").reading
    saved = save(sheet, ben, "", basis=first.pk)
    assert saved.status == "withdrawn"
    assert Sheet.load(sheet).value("relief") is None
    assert Reading.objects.count() == 2


def test_a_correction_holds_and_names_what_it_replaces(sheet, ben):
    first = save(sheet, ben, "0.25").reading
    second = save(sheet, ben, "0.20", basis=first.pk).reading
    assert second.replaces == first
    assert Sheet.load(sheet).value("relief") == 0.20


@pytest.mark.parametrize(
    "place",
    [
        {"step": "belfry"}, {"key": "weight"}, {"stage": "left"}, {"string": 3}, {"stage": "attic"},
        {"step": "nut", "key": "nut_gap", "string": 7}, {"step": "nut", "key": "nut_gap", "string": None},
    ],
)  # fmt: skip
def test_an_unknown_place_is_refused(sheet, ben, place):
    with pytest.raises(services.UnknownPlace):
        save(sheet, ben, "0.25", **place)
    assert Reading.objects.count() == 0


def test_another_worksheets_id_tells_nothing(sheet, ben):
    client_id = uuid.uuid4()
    save(sheet, ben, "0.25", client_id=client_id)
    other = build.worksheet(build.at_bench(sheet.order.instrument, ben), ben)
    with pytest.raises(services.UnknownPlace):
        save(other, ben, "0.25", client_id=client_id)


def test_a_signed_sheet_takes_no_reading_and_says_so(sheet, ben):
    sheet.signed_at, sheet.signed_by = sheet.started_at, ben
    sheet.save(update_fields=["signed_at", "signed_by"])
    saved = save(sheet, ben, "0.25")
    assert (saved.status, saved.reading) == ("closed", None)
    assert saved.problem.endswith(".")
    assert Reading.objects.count() == 0


def test_a_repeated_id_is_still_answered_after_sign_off(sheet, ben):
    client_id = uuid.uuid4()
    save(sheet, ben, "0.25", client_id=client_id)
    sheet.signed_at, sheet.signed_by = sheet.started_at, ben
    sheet.save(update_fields=["signed_at", "signed_by"])
    assert save(sheet, ben, "0.25", client_id=client_id).status == "saved"


def test_a_number_too_long_for_the_column_is_kept_shortened(sheet, ben):
    saved = save(sheet, ben, "9" * 500)
    assert saved.status == "unreadable"
    assert Reading.objects.get().standing == Standing.UNREADABLE
    assert len(Reading.objects.get().raw) == 200
