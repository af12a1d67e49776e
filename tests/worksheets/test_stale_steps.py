"""A step that was done is looked at again when what it rested on has changed since."""

import uuid

import pytest

from shop.worksheets import services
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def sheet(ben):
    return build.worksheet(build.at_bench(factories.instrument(), ben), ben)


def read(sheet, by, raw, *, step="relief", key="relief", string=None, basis=None, stage="bench", gauge=""):
    return services.save_reading(
        sheet, client_id=uuid.uuid4(), stage=stage, step=step, key=key, string=string, raw=raw, basis=basis, by=by,
        gauge=gauge,
    )  # fmt: skip


def because(sheet, step):
    return sheet.marks.get(step=step).stale_because


def test_a_changed_reading_makes_later_steps_stale_and_says_why(sheet, ben):
    first = read(sheet, ben, "0.20").reading
    services.mark_done(sheet, step="height", by=ben)
    saved = read(sheet, ben, "0.40", basis=first.pk)
    assert saved.stale == ("height",)
    assert because(sheet, "height") == "The reading 'relief' has changed."


def test_a_step_is_not_upset_by_its_own_readings(sheet, ben):
    first = read(sheet, ben, "1.9", step="height", key="height_12", string=6).reading
    services.mark_done(sheet, step="height", by=ben)
    read(sheet, ben, "1.6", step="height", key="height_12", string=6, basis=first.pk)
    assert because(sheet, "height") == ""


def test_its_own_readings_do_not_upset_it_later_either(sheet, ben):
    first = read(sheet, ben, "15.0", step="tail", key="crest_height_bass").reading
    services.mark_done(sheet, step="tail", by=ben)
    read(sheet, ben, "14.0", step="tail", key="crest_height_bass", basis=first.pk)
    assert read(sheet, ben, "0.2").stale == ()
    assert because(sheet, "tail") == ""


def test_the_same_reading_again_within_its_gauge_upsets_nothing(sheet, ben):
    first = read(sheet, ben, "0.20", gauge="feeler").reading
    services.mark_done(sheet, step="height", by=ben)
    assert read(sheet, ben, "0.22", basis=first.pk, gauge="feeler").stale == ()


def test_a_finer_gauge_sees_a_smaller_change(sheet, ben):
    first = read(sheet, ben, "0.20", gauge="dial").reading
    services.mark_done(sheet, step="height", by=ben)
    assert read(sheet, ben, "0.22", basis=first.pk, gauge="dial").stale == ("height",)


def test_putting_the_value_back_makes_the_step_good_again(sheet, ben):
    first = read(sheet, ben, "0.20").reading
    services.mark_done(sheet, step="height", by=ben)
    slip = read(sheet, ben, "2.0", basis=first.pk).reading
    assert because(sheet, "height")
    services.undo_reading(sheet, reading=slip.pk, by=ben)
    assert because(sheet, "height") == ""


def test_a_reading_taken_for_the_first_time_afterwards_counts(sheet, ben):
    services.mark_done(sheet, step="height", by=ben)
    assert read(sheet, ben, "0.20").stale == ("height",)
    assert because(sheet, "height") == "The reading 'relief' was taken afterwards."


def test_a_bench_reading_that_confirms_the_one_as_received_upsets_nothing(sheet, ben):
    read(sheet, ben, "0.20", step="inspect", stage="received")
    services.mark_done(sheet, step="height", by=ben)
    assert read(sheet, ben, "0.20").stale == ()


def test_as_left_readings_upset_no_earlier_step(sheet, ben):
    read(sheet, ben, "0.20")
    services.mark_done(sheet, step="height", by=ben)
    assert read(sheet, ben, "0.45", step="left", stage="left").stale == ()


def test_work_after_the_as_left_readings_makes_them_stale(sheet, ben):
    first = read(sheet, ben, "0.20").reading
    services.mark_done(sheet, step="left", by=ben)
    assert "left" in read(sheet, ben, "0.40", basis=first.pk).stale


def test_another_stringing_upsets_the_tailpiece(sheet, ben):
    services.mark_done(sheet, step="tail", by=ben)
    services.set_stringing(sheet, stringing="wrapped", by=ben)
    assert because(sheet, "tail") == "The strings are now wrapped over the tailpiece."


def test_marking_again_freshens_it(sheet, ben):
    first = read(sheet, ben, "0.20").reading
    services.mark_done(sheet, step="height", by=ben)
    read(sheet, ben, "0.40", basis=first.pk)
    services.mark_done(sheet, step="height", by=ben)
    assert because(sheet, "height") == ""


def test_a_skipped_step_does_not_become_stale(sheet, ben):
    services.skip_step(sheet, step="height", reason="Bridge is glued.", by=ben)
    assert read(sheet, ben, "0.40").stale == ()
