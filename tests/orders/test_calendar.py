"""The bench's load by day. 25 November 2026 is a Wednesday; six hours a day where nothing else is said."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
import vobject
from django.db import IntegrityError, transaction
from django.utils import timezone

from shop.orders.feed import feed_of, renew_feed
from shop.orders.load import BenchCalendar
from shop.orders.models import BenchHours, ClosedDays, WorkOrder
from shop.orders.promising import Carried, overload
from shop.orders.services import NewLine
from shop.staff.models import Workshop
from tests import factories
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db
WEDNESDAY, SIX = date(2026, 11, 25), Workshop(bench_hours_a_day=Decimal(6))


@pytest.fixture(autouse=True)
def on_wednesday(monkeypatch):
    for place in ("load", "promising", "opening", "forms.calendar", "views.calendar", "feed"):
        monkeypatch.setattr(f"shop.orders.{place}.today", lambda: WEDNESDAY)


def order(by, minutes, day):
    who = factories.customer(name=f"{minutes} {day}")
    lines = (NewLine("Setup", Decimal(85), Decimal(20), minutes=minutes),)
    return booked(by, customer=who, lines=lines, promised_on=day)


def test_closed_days_and_hours_of_the_weekday_move_the_proposal():
    ClosedDays.objects.create(first=date(2026, 11, 26), last=date(2026, 11, 27), name="Stocktaking")
    BenchHours.objects.create(weekday=5, hours=Decimal(2))  # two hours on Saturdays
    assert Carried.here(SIX, now=WEDNESDAY).proposal(120).day == date(2026, 11, 28)
    assert Carried.here(SIX, now=WEDNESDAY).proposal(121).day == date(2026, 11, 30)


def test_a_bench_that_never_works_still_gets_an_answer():
    for weekday in range(7):
        BenchHours.objects.create(weekday=weekday, hours=0)
    assert Carried.here(SIX, now=WEDNESDAY).proposal(60).day > WEDNESDAY + timedelta(days=700)


def test_overload_counts_all_that_is_promised_until_then(cleo):
    order(cleo, 360, date(2026, 11, 25))
    order(cleo, 300, date(2026, 11, 26))
    assert overload(date(2026, 11, 26), place=SIX, minutes=60) == ""  # 12 h in two days
    says = overload(date(2026, 11, 26), place=SIX, minutes=61)
    assert says == "Too much by then: 12 h 1 min are promised, and the bench has 12 h."
    assert overload(date(2026, 11, 28), place=SIX) == "Nobody works at the bench on that day."


def test_each_day_with_its_load(cleo):
    order(cleo, 400, date(2026, 11, 26))
    order(cleo, 400, date(2026, 11, 26))
    order(cleo, 30, date(2026, 11, 20))
    order(cleo, 30, None)
    calendar = BenchCalendar.of(WEDNESDAY, place=SIX)
    days = {day.day: day for day in calendar.days}
    thursday = days[date(2026, 11, 26)]
    assert (thursday.minutes, thursday.promised_until, thursday.room_until) == (800, 830, 720)
    assert (thursday.is_over, thursday.too_much, thursday.filled) == (True, 110, 100)
    assert [len(calendar.late), len(calendar.unpromised), len(calendar.days)] == [1, 1, 28]


def test_queries_do_not_grow(cleo, django_assert_num_queries):
    for number in range(6):
        order(cleo, 60, WEDNESDAY + timedelta(days=number))
    with django_assert_num_queries(5):
        BenchCalendar.of(WEDNESDAY, place=SIX)


def test_a_full_day_shows_its_first_jobs_counts_all_and_opens_whole(as_person, cleo, monkeypatch):
    monkeypatch.setattr("shop.orders.load.MOST_OF_DAY", 2)
    many = [order(cleo, 60 + number, date(2026, 11, 26)) for number in range(5)]
    day = next(day for day in BenchCalendar.of(WEDNESDAY, place=SIX).days if day.count)
    assert (len(day.orders), day.count, day.more, day.minutes) == (2, 5, 3, 310)
    client = as_person(cleo)
    page = client.get("/calendar/?from=2026-11-23").text
    assert many[-1].number not in page
    assert "?from=2026-11-23&amp;whole=2026-11-26#d-2026-11-26" in page
    assert many[-1].number in client.get("/calendar/?from=2026-11-23&whole=2026-11-26").text


def test_moving_a_promise(as_person, cleo):
    one = order(cleo, 90, WEDNESDAY)
    sent = {"number": one.number, "day": "2026-11-30", "from": "2026-11-23"}
    answer = as_person(cleo).post("/calendar/move/", sent)
    assert answer["Location"] == f"/calendar/?from=2026-11-23&whole=2026-11-30#o-{one.number}"
    one.refresh_from_db()
    assert one.promised_on == date(2026, 11, 30)
    assert one.events.filter(what="promised").count() == 1


@pytest.mark.parametrize("day", ["2026-11-24", "2026-02-30", "9999-12-31", "", "soon"])
def test_impossible_days_are_not_promised(as_person, cleo, day):
    one = order(cleo, 90, WEDNESDAY)
    client = as_person(cleo)
    client.post("/calendar/move/", {"number": one.number, "day": day})
    assert WorkOrder.objects.get().promised_on == WEDNESDAY
    assert client.get(f"/calendar/?from={day}").status_code == 200


def test_moving_onto_too_much_warns(as_person, cleo):
    one = order(cleo, 2000, None)
    answer = as_person(cleo).post("/calendar/move/", {"number": one.number, "day": "2026-11-26"}, follow=True)
    assert "Too much by then: 33 h 20 min are promised" in answer.content.decode()


def test_the_feed_is_read_by_another_parser(client, cleo):
    """RFC 5545, read back by vobject, which has nothing to do with the library that wrote it."""
    one = order(cleo, 90, date(2026, 12, 1))
    WorkOrder.objects.filter(pk=one.pk).update(complaint="Buzzes; low E,\nand á " + "long " * 40)
    answer = client.get(f"/calendar/{renew_feed(cleo).key}.ics")
    assert answer["Content-Type"].startswith("text/calendar")
    assert all(len(line) <= 75 for line in answer.content.split(b"\r\n"))  # section 3.1, octets
    [event] = vobject.readOne(answer.content.decode()).vevent_list
    assert (event.dtstart.value, event.dtend.value) == (date(2026, 12, 1), date(2026, 12, 2))
    assert event.summary.value.startswith(one.number)
    assert "low E,\nand á long" in event.description.value


def test_a_withdrawn_feed_opens_nothing(client, as_person, cleo):
    old = renew_feed(cleo).key
    as_person(cleo).post("/calendar/feed/renew/")
    client.logout()
    assert client.get(f"/calendar/{old}.ics").status_code == 404
    address = f"/calendar/{feed_of(cleo).key}.ics"
    assert client.get(address).status_code == 200
    as_person(cleo).post("/calendar/feed/withdraw/")
    assert client.get(address).status_code == 404
    new = renew_feed(cleo)
    cleo.is_active = False
    cleo.save(update_fields=["is_active"])
    assert client.get(f"/calendar/{new.key}.ics").status_code == 404
    assert [client.get(f"/calendar/guess{n}.ics").status_code for n in range(14)][-1] == 429


def test_the_owner_sets_hours_and_closed_days(as_person, ada):
    client = as_person(ada)
    hours = {f"day{number}": "7,5" if number < 4 else "0" for number in range(7)}
    assert client.post("/bench-hours/", hours).status_code == 302
    assert BenchHours.objects.get(weekday=0).hours == Decimal("7.5")
    nothing = {f"day{number}": "0" for number in range(7)}
    assert client.post("/bench-hours/", nothing).status_code == 422
    assert client.post("/bench-hours/", hours | {"day0": "many"}).status_code == 422
    day = timezone.localdate() + timedelta(days=40)
    wrong = {"first": day.isoformat(), "last": WEDNESDAY.isoformat(), "name": "Rest"}
    answer = client.post("/bench-hours/close/", wrong)
    assert (answer.status_code, "The last day is before the first." in answer.content.decode()) == (422, True)
    client.post("/bench-hours/close/", wrong | {"last": day.isoformat()})
    client.post(f"/bench-hours/{ClosedDays.objects.get().pk}/open/")
    assert not ClosedDays.objects.exists()


def test_closed_days_run_forwards():
    with pytest.raises(IntegrityError), transaction.atomic():
        ClosedDays.objects.create(first=WEDNESDAY, last=WEDNESDAY - timedelta(days=1), name="Rest")
