"""Sign-off: refused with sentences while anything is open; then it keeps what was found and frees the order."""

from datetime import date

import pytest

from shop.orders import services as orders
from shop.orders.models import Event
from shop.orders.states import State
from shop.worksheets import services
from shop.worksheets.evaluation import evaluate
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(ben):
    return build.at_bench(factories.instrument(), ben)


def refused(sheet, by):
    with pytest.raises(services.NotYet) as caught:
        services.sign_off(sheet, by=by)
    sheet.refresh_from_db()
    assert not sheet.is_signed
    return caught.value.reasons


def test_a_finished_sheet_is_signed_and_the_order_checked(order, ben):
    sheet = build.finished(order, ben)
    services.sign_off(sheet, by=ben, watch="The third slot.", next_check_on=date(2027, 11, 1))
    sheet.refresh_from_db()
    order.refresh_from_db()
    assert (sheet.signed_by, sheet.watch, sheet.next_check_on) == (ben, "The third slot.", date(2027, 11, 1))
    assert order.state == State.CHECKED
    assert not order.holds.filter(lifted_at=None).exists()
    assert Event.objects.get(what="worksheet_signed").text == "Worksheet signed off; nothing out of range."


def test_it_keeps_findings_table_and_numbers_as_they_stood(order, ben):
    sheet = build.finished(order, ben)
    services.sign_off(sheet, by=ben)
    sheet.refresh_from_db()
    kept = sheet.outcome
    assert {"findings", "rows", "numbers", "skipped"} == set(kept)
    relief = next(one for one in kept["rows"] if one["key"] == "relief")
    assert (relief["received"], relief["left"], relief["low"], relief["high"]) == (0.2, 0.2, 0.1, 0.3)
    assert kept["numbers"] == evaluate(sheet).numbers
    assert len(kept["numbers"]["window"]["polygon"]) >= 3


def test_an_out_of_range_reading_refuses_and_says_which(order, ben):
    sheet = build.finished(order, ben, **{"left.relief": 0.6})
    assert "Relief is 0.60 mm: 0.30 mm above its range, between 0.10 and 0.30 mm." in refused(sheet, ben)


def test_accepted_by_name_with_a_reason_it_is_signed(order, ben, ada):
    sheet = build.finished(order, ben, **{"left.relief": 0.6})
    services.accept_finding(sheet, finding_key="relief", reason="The player likes it so.", by=ada)
    services.sign_off(sheet, by=ben)
    sheet.refresh_from_db()
    kept = next(one for one in sheet.outcome["findings"] if one["key"] == "relief")
    assert kept["accepted"]["reason"] == "The player likes it so."
    assert kept["accepted"]["by"] == "Ada"
    assert "1 finding accepted by name" in Event.objects.get(what="worksheet_signed").text


def test_too_close_to_tell_is_not_in_range_and_asks_for_acceptance_too(order, ben):
    sheet = build.finished(order, ben, **{"left.relief": 0.30})
    assert any("too close to its limit to tell" in reason for reason in refused(sheet, ben))


@pytest.mark.parametrize(
    ("place", "said"),
    [
        ("received.relief", "Not read yet as received: relief."),
        ("left.octave:3", "Not read yet as left: octave at fret 12 of string 3."),
        ("nut_gap:2", "Not read yet: gap at fret 1, held at fret 3 of string 2."),
        ("strings_fitted", "Not read yet: agreed strings fitted."),
        ("fret_play:4", "Not read yet: every fret played of string 4."),
    ],
)
def test_a_missing_required_reading_refuses(order, ben, place, said):
    sheet = build.finished(order, ben, **{place: None})
    sheet.readings.filter(value=None).update(raw="")
    assert said in refused(sheet, ben)


def test_a_missing_reading_of_a_step_left_out_with_a_reason_does_not(order, ben):
    sheet = build.finished(order, ben, **{"nut_gap:2": None})
    sheet.readings.filter(value=None).update(raw="")
    services.skip_step(sheet, step="nut", reason="Locking nut.", by=ben)
    assert services.sign_off(sheet, by=ben).is_signed


def test_a_no_refuses(order, ben):
    sheet = build.finished(order, ben, saddles_seated=0.0)
    assert "Saddles sit firm, springs in place: no." in refused(sheet, ben)


def test_a_buzzing_string_refuses(order, ben):
    sheet = build.finished(order, ben, **{"fret_play:2": 1.0})
    assert "String 2, every fret played: it buzzes somewhere." in refused(sheet, ben)


def test_a_step_neither_done_nor_left_out_refuses(order, ben):
    sheet = build.finished(order, ben)
    services.take_back_mark(sheet, step="arch", by=ben)
    assert "Arch of the saddles: neither done nor left out." in refused(sheet, ben)


def test_a_stale_step_refuses_and_says_why(order, ben):
    sheet = build.finished(order, ben)
    sheet.marks.filter(step="height").update(stale_because="The reading 'relief' has changed.")
    reasons = refused(sheet, ben)
    assert reasons == ["Bridge height, both sides: look again. The reading 'relief' has changed."]


def test_rival_readings_refuse(order, ben):
    sheet = build.finished(order, ben)
    sheet.readings.filter(key="relief", stage="left").update(standing="rival")
    assert "Two readings wait to be chosen from: relief." in refused(sheet, ben)


def test_every_reason_is_a_whole_sentence(order, ben):
    sheet = build.worksheet(order, ben)
    reasons = refused(sheet, ben)
    assert len(reasons) > 20
    assert all(reason[0].isupper() and reason.endswith(".") for reason in reasons)


@pytest.mark.parametrize("state", [State.AGREED, State.WAITING_PARTS])
def test_an_order_that_is_not_on_the_bench_refuses(order, ben, state):
    sheet = build.finished(order, ben)
    type(order).objects.filter(pk=order.pk).update(state=state)
    assert refused(sheet, ben)[0].endswith("it is signed off only while it is on the bench.")


def test_another_hold_keeps_the_order_on_the_bench(order, ben):
    sheet = build.finished(order, ben)
    orders.hold(order, key="other", reason="a part is missing")
    services.sign_off(sheet, by=ben)
    order.refresh_from_db()
    assert order.state == State.ON_BENCH


def test_it_is_signed_once(order, ben):
    sheet = build.finished(order, ben)
    services.sign_off(sheet, by=ben)
    with pytest.raises(services.SheetClosed):
        services.sign_off(sheet, by=ben)


def test_an_endless_remark_refuses(order, ben):
    sheet = build.finished(order, ben)
    with pytest.raises(services.NotYet, match="at most 1000 characters"):
        services.sign_off(sheet, by=ben, watch="x" * 1001)
