"""Time at the bench: each moment counts once, late stretches count, and what is set by hand stands."""

import uuid
from datetime import UTC, datetime, timedelta
from types import SimpleNamespace

import pytest
from django.utils import timezone
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.figures import tables
from shop.worksheets import services, time_spent
from shop.worksheets.models import Worksheet, WorkSpan
from shop.worksheets.services.errors import Refused, UnknownPlace
from tests import factories
from tests import worksheet_builders as build

NOON = datetime(2026, 3, 4, 12, tzinfo=UTC)


def span(step, begins, ends, pk=0):
    minute = timedelta(minutes=1)
    return SimpleNamespace(step=step, began_at=NOON + begins * minute, ended_at=NOON + ends * minute, pk=pk)


def minutes(spans, by_hand=()):
    return {step: seconds / 60 for step, seconds in time_spent.seconds_by_step(spans, by_hand).items()}


def test_two_tablets_on_one_step_count_once():
    assert minutes([span("nut", 0, 10), span("nut", 5, 12)]) == {"nut": 12}


def test_while_two_steps_are_open_the_one_taken_up_last_has_the_time():
    assert minutes([span("nut", 0, 10), span("tail", 4, 6)]) == {"nut": 8, "tail": 2}


def test_what_was_set_by_hand_stands_and_later_work_is_added():
    said = SimpleNamespace(step="nut", seconds=1800, at=NOON + timedelta(minutes=6))
    assert minutes([span("nut", 0, 10), span("tail", 20, 21)], [said]) == {"nut": 34, "tail": 1}


stretches = st.lists(st.tuples(st.sampled_from("abc"), st.integers(0, 90), st.integers(0, 40)), max_size=8)


@settings(max_examples=40, deadline=None)
@given(stretches)
def test_the_steps_add_up_to_the_minutes_in_which_anybody_was_at_work(drawn):
    """Counted minute by minute, as somebody with a clock and a list would."""
    spans = [span(step, begins, begins + long, pk) for pk, (step, begins, long) in enumerate(drawn)]
    busy = {minute for _, begins, long in drawn for minute in range(begins, begins + long)}
    assert sum(minutes(spans).values()) == pytest.approx(len(busy))


@pytest.mark.parametrize(
    ("seconds", "words"), [(0, ""), (20, "under a minute"), (40, "1 min"), (3540, "59 min"), (3900, "1 h 05 min")]
)
def test_it_is_said_in_minutes_and_hours(seconds, words):
    assert time_spent.said(seconds) == words


@pytest.fixture
def sheet(ben):
    made = build.worksheet(build.at_bench(factories.instrument(), ben), ben)
    Worksheet.objects.filter(pk=made.pk).update(started_at=timezone.now() - timedelta(days=2))
    return Worksheet.objects.get(pk=made.pk)


def record(sheet, ben, began, ended, client_id=None, step="nut"):
    return services.record_span(
        sheet, client_id=client_id or uuid.uuid4(), step=step, began_ago=timedelta(minutes=began),
        ended_ago=timedelta(minutes=ended), by=ben,
    )  # fmt: skip


def total(sheet):
    return round(sum(time_spent.of_sheet(sheet).values()) / 60, 1)


@pytest.mark.django_db
def test_the_same_stretch_grows_and_never_counts_twice(sheet, ben):
    one = uuid.uuid4()
    record(sheet, ben, 10, 5, one)
    record(sheet, ben, 10, 2, one)
    record(sheet, ben, 10, 5, one)
    assert WorkSpan.objects.count() == 1
    assert total(sheet) == 8


@pytest.mark.django_db
def test_a_stretch_kept_on_a_tablet_overnight_still_counts(sheet, ben):
    record(sheet, ben, 1000, 990)
    assert total(sheet) == 10


@pytest.mark.django_db
@pytest.mark.parametrize(("began", "ended"), [(5, 10), (-5, -10), (60 * 24 * 60, 60 * 24 * 60 - 5), (13 * 60, 0)])
def test_what_cannot_have_been_is_refused(sheet, ben, began, ended):
    with pytest.raises(Refused):
        record(sheet, ben, began, ended)


@pytest.mark.django_db
def test_nothing_counts_before_the_sheet_began_or_after_it_was_signed(sheet, ben):
    now = timezone.now()
    Worksheet.objects.filter(pk=sheet.pk).update(
        started_at=now - timedelta(minutes=30), signed_at=now - timedelta(minutes=10), signed_by=ben
    )
    record(sheet, ben, 40, 25)
    record(sheet, ben, 12, 2)
    assert record(sheet, ben, 5, 1) is None
    assert total(sheet) == pytest.approx(7, abs=0.1)


@pytest.mark.django_db
def test_an_id_belongs_to_its_step(sheet, ben):
    one = uuid.uuid4()
    record(sheet, ben, 10, 5, one)
    with pytest.raises(UnknownPlace):
        record(sheet, ben, 10, 2, one, step="tail")


@pytest.mark.django_db
def test_setting_it_leaves_a_line_of_the_history(sheet, ben):
    record(sheet, ben, 20, 0)
    services.set_time(sheet, step="nut", minutes=12, by=ben)
    assert total(sheet) == 12
    assert sheet.order.events.get(what="time_set").text == "Nut slots: 12 min by hand (the clock said 20 min)."
    with pytest.raises(Refused):
        services.set_time(sheet, step="nut", minutes=100_000, by=ben)


@pytest.mark.django_db
def test_done_and_signed_say_how_long_it_took(ben):
    done = build.finished(build.at_bench(factories.instrument(), ben), ben)
    services.set_time(done, step="nut", minutes=12, by=ben)
    services.mark_done(done, step="nut", by=ben)
    assert done.order.events.get(what="step_done").text == "Nut slots: done, 12 min."
    services.sign_off(done, by=ben)
    assert done.order.events.get(what="worksheet_signed").text.endswith("12 min at the bench.")


@pytest.fixture
def timed(ben):
    """A sheet ready to be signed, begun two hours ago."""
    sheet = build.finished(build.at_bench(factories.instrument(), ben), ben)
    Worksheet.objects.filter(pk=sheet.pk).update(started_at=timezone.now() - timedelta(hours=2))
    return Worksheet.objects.get(pk=sheet.pk)


def saw(sheet, ben, began, ended, step="nut"):
    return services.record_span(sheet, client_id=uuid.uuid4(), step=step, began_ago=timedelta(minutes=began),
                                ended_ago=timedelta(minutes=ended), by=ben)  # fmt: skip


@pytest.mark.django_db
def test_a_signed_sheet_keeps_what_it_took_as_everywhere(timed, ben):
    """Two tablets at one step for half an hour, ten minutes of them together: fifty minutes, not sixty."""
    saw(timed, ben, 60, 30)
    saw(timed, ben, 40, 10)
    signed = services.sign_off(timed, by=ben)
    assert signed.spent_seconds == pytest.approx(50 * 60, abs=1)
    assert signed.spent_seconds == pytest.approx(sum(time_spent.of_sheet(signed).values()), abs=1)


@pytest.mark.django_db
def test_work_that_a_tablet_tells_of_after_the_sign_off_is_added(timed, ben):
    saw(timed, ben, 60, 30)
    signed = services.sign_off(timed, by=ben)
    saw(signed, ben, 100, 80, step="tail")
    signed.refresh_from_db()
    assert signed.spent_seconds == pytest.approx(50 * 60, abs=1)


@pytest.mark.django_db
def test_the_owners_figures_count_hours_in_the_same_way(timed, ben):
    saw(timed, ben, 70, 40)
    saw(timed, ben, 60, 40)
    services.set_time(timed, step="tail", minutes=15, by=ben)
    services.sign_off(timed, by=ben)
    hours = tables.tables_of(12)["hours"]
    assert sum(hours.column(2)) == pytest.approx(0.75, abs=0.06)
    assert sum(hours.column(3)) == 1
