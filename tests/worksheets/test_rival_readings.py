"""Two tablets on one field: both values are kept, and somebody chooses."""

import uuid

import pytest

from shop.orders.models import Event
from shop.worksheets import services
from shop.worksheets.models import Reading, Standing
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
    )  # fmt: skip


def test_a_value_typed_without_seeing_the_other_is_a_rival(sheet, ben, ada):
    first = save(sheet, ben, "0.25")
    second = save(sheet, ada, "0.30", basis=None)
    assert second.status == "rival"
    assert [one.raw for one in second.rivals] == ["0.25", "0.30"]
    assert Sheet.load(sheet).value("relief") == first.reading.value


def test_the_same_value_typed_twice_is_no_rival(sheet, ben, ada):
    save(sheet, ben, "0.25")
    assert save(sheet, ada, "0.25 mm", basis=None).status == "saved"


def test_different_fields_both_stand(sheet, ben, ada):
    save(sheet, ben, "0.25")
    saved = services.save_reading(
        sheet, client_id=uuid.uuid4(), stage="bench", step="nut", key="nut_gap", string=1, raw="0.1", by=ada
    )
    assert saved.status == "saved"


@pytest.mark.parametrize(("chosen", "value"), [(0, 0.25), (1, 0.30), (2, 0.35)])
def test_choosing_settles_whichever_is_chosen(sheet, ben, ada, chosen, value):
    save(sheet, ben, "0.25")
    save(sheet, ada, "0.30")
    rivals = save(sheet, ada, "0.35").rivals
    saved = services.choose_reading(sheet, reading=rivals[chosen].pk, by=ben)
    assert saved.status == "saved"
    kept = Sheet.load(sheet)
    assert (kept.value("relief"), kept.all_rivals) == (value, ())
    assert Reading.objects.filter(standing=Standing.SET_ASIDE).count() == 2
    assert Event.objects.filter(what="reading_chosen").count() == 1


def test_a_value_that_was_seen_while_rivals_wait_does_not_slip_past_them(sheet, ben, ada):
    first = save(sheet, ben, "0.25").reading
    save(sheet, ada, "0.30")
    assert save(sheet, ben, "0.20", basis=first.pk).status == "rival"


def test_choosing_twice_is_refused(sheet, ben, ada):
    save(sheet, ben, "0.25")
    second = save(sheet, ada, "0.30").reading
    services.choose_reading(sheet, reading=second.pk, by=ben)
    with pytest.raises(ValueError, match=r"settled\.$"):
        services.choose_reading(sheet, reading=second.pk, by=ada)


def test_a_reading_of_another_sheet_cannot_be_chosen(sheet, ben):
    other = build.worksheet(build.at_bench(sheet.order.instrument, ben), ben)
    elsewhere = save(other, ben, "0.25").reading
    with pytest.raises(services.UnknownPlace):
        services.choose_reading(sheet, reading=elsewhere.pk, by=ben)
