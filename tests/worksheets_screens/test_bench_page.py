"""The bench's list and the start of a worksheet."""

from datetime import timedelta

import pytest
from django.utils import timezone

from shop.orders import services as orders
from shop.orders.states import State
from shop.worksheets.models import TargetProfile, Worksheet
from shop.worksheets.profiles import ensure_usual_profiles
from tests import factories
from tests import worksheet_builders as build

TODAY = timezone.now().date()


@pytest.fixture
def instrument(db):
    return factories.instrument(taste="Light touch, and slide.")


def page_of(client):
    return client.get("/bench/").content.decode()


def test_an_empty_bench_says_so(as_person, ben):
    assert "The bench is clear." in page_of(as_person(ben))


def test_work_is_in_promise_order_and_late_is_a_word(as_person, ben, instrument):
    later = build.at_bench(instrument, ben, promised_on=TODAY + timedelta(days=9))
    late = build.at_bench(instrument, ben, promised_on=TODAY - timedelta(days=3))
    page = page_of(as_person(ben))
    assert page.index(late.number) < page.index(later.number)
    assert page.count(">late<") == 1


def test_what_waits_says_for_what_since_when_and_why(as_person, ben, instrument):
    order = build.at_bench(instrument, ben)
    orders.move(order, State.WAITING_PARTS, by=ben, reason="a new nut blank")
    page = page_of(as_person(ben))
    assert "Waiting for parts" in page
    assert "a new nut blank" in page
    assert "0 to work on, 1 waiting" in page


def test_progress_is_shown_and_one_goes_on(as_person, ben, instrument):
    sheet = build.worksheet(build.at_bench(instrument, ben), ben)
    build.mark_all(sheet, ben, but=("play", "left"))
    page = page_of(as_person(ben))
    assert "10 of 12 steps done" in page
    assert f'href="/bench/{sheet.pk}/"' in page


def test_twice_the_orders_take_as_many_queries(as_person, ben, instrument, django_assert_max_num_queries):
    client = as_person(ben)
    for _ in range(6):
        build.mark_all(build.worksheet(build.at_bench(instrument, ben), ben), ben)
    page_of(client)
    with django_assert_max_num_queries(10):
        page_of(client)


def test_the_start_shows_taste_complaint_and_how_it_was_left(as_person, ben, instrument):
    before = build.worksheet(build.at_bench(instrument, ben), ben)
    build.store(before, ben, {"left.relief": 0.17})
    before.signed_at, before.signed_by = before.started_at, ben
    before.save(update_fields=["signed_at", "signed_by"])
    page = as_person(ben).get(f"/bench/start/{build.at_bench(instrument, ben).pk}/").content.decode()
    for text in ("Light touch, and slide.", "Buzzes.", "0.17 mm", "Electric, usual"):
        assert text in page


def test_it_starts_with_the_profile_and_stringing_chosen(as_person, ben, instrument):
    ensure_usual_profiles()
    low = TargetProfile.objects.create(name="Electric, low", kind="electric")
    order = build.at_bench(instrument, ben)
    answer = as_person(ben).post(f"/bench/start/{order.pk}/", {"profile": low.pk, "stringing": "wrapped"})
    sheet = Worksheet.objects.get()
    assert answer.url == f"/bench/{sheet.pk}/"
    assert (sheet.profile_name, sheet.stringing, sheet.order) == ("Electric, low", "wrapped", order)


def test_a_choice_that_is_none_is_422(as_person, ben, instrument):
    order = build.at_bench(instrument, ben)
    answer = as_person(ben).post(f"/bench/start/{order.pk}/", {"profile": "999", "stringing": "sideways"})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Choose one of the workshop&#x27;s profiles." in page
    assert "Choose how the strings go." in page
    assert not Worksheet.objects.exists()


def test_an_order_that_cannot_be_worked_on_says_why(as_person, ben, instrument):
    ensure_usual_profiles()
    order = build.at_bench(instrument, ben, state=State.COLLECTED)
    sent = {"profile": TargetProfile.objects.get(kind="electric").pk, "stringing": "through"}
    answer = as_person(ben).post(f"/bench/start/{order.pk}/", sent)
    assert answer.status_code == 422
    assert "no worksheet can be started" in answer.content.decode()


def test_started_already_it_goes_on(as_person, ben, instrument):
    sheet = build.worksheet(build.at_bench(instrument, ben), ben)
    assert as_person(ben).get(f"/bench/start/{sheet.order_id}/").url == f"/bench/{sheet.pk}/"


def test_an_unknown_order_is_404_and_the_counter_may_not_start(as_person, ben, cleo, instrument):
    order = build.at_bench(instrument, ben)
    assert as_person(ben).get("/bench/start/9999/").status_code == 404
    assert as_person(cleo).get(f"/bench/start/{order.pk}/").status_code == 403
