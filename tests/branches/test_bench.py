"""The bench of each branch: its load, its promises, its hours, its list."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from shop.lib.dates import today
from shop.orders import services
from shop.orders.benchtime import BenchTime
from shop.orders.feed import calendar_text
from shop.orders.load import BenchCalendar
from shop.orders.models import BenchHours, ClosedDays, WorkOrder
from shop.orders.promising import Carried, overload
from shop.orders.services import NewLine
from shop.orders.states import State
from shop.staff.branching import Place
from shop.staff.models import Workshop
from tests import counter_builders, factories

pytestmark = pytest.mark.django_db
WEDNESDAY = date(2026, 11, 25)


@pytest.fixture
def places(two, monkeypatch):
    for module in ("load", "promising", "feed"):
        monkeypatch.setattr(f"shop.orders.{module}.today", lambda: WEDNESDAY)
    here = Workshop.here()
    return Place(here, two.street), Place(here, two.harbour)


def job(two, branch, minutes=720, day=WEDNESDAY):
    who = factories.customer(name=f"{branch} {minutes}")
    lines = (NewLine("Refret", Decimal(400), Decimal(20), minutes=minutes),)
    return counter_builders.booked(two.ada, branch=branch, customer=who, lines=lines, promised_on=day)


def test_what_one_bench_carries_delays_no_other(two, places):
    street, harbour = places
    job(two, two.street)
    assert Carried.here(street, now=WEDNESDAY).proposal(60).day == date(2026, 11, 30)
    assert Carried.here(harbour, now=WEDNESDAY).proposal(60).day == date(2026, 11, 26)
    assert overload(WEDNESDAY, place=street, now=WEDNESDAY).startswith("Too much by then")
    assert overload(WEDNESDAY, place=harbour, now=WEDNESDAY) == ""


def test_the_calendar_shows_one_bench(two, places):
    street, harbour = places
    ours, theirs = job(two, two.street), job(two, two.harbour, 60)
    for place, order in ((street, ours), (harbour, theirs)):
        shown = [one.pk for day in BenchCalendar.of(WEDNESDAY, place=place).days for one in day.orders]
        assert shown == [order.pk]


def test_hours_and_closed_days_of_one_bench_and_of_all(two, places):
    BenchHours.objects.create(weekday=0, hours=Decimal(4))  # everywhere, where nothing else is said
    BenchHours.objects.create(weekday=0, hours=Decimal(8), branch=two.harbour)
    ClosedDays.objects.create(first=WEDNESDAY, last=WEDNESDAY, name="Market", branch=two.harbour)
    ClosedDays.objects.create(first=WEDNESDAY + timedelta(1), last=WEDNESDAY + timedelta(1), name="Holiday")
    times = [BenchTime.here(place, since=WEDNESDAY) for place in places]
    assert [one.by_weekday[0] for one in times] == [240, 480]
    assert [one.minutes_on(WEDNESDAY) for one in times] == [360, 0]
    assert [one.closed_for(WEDNESDAY + timedelta(1)) for one in times] == ["Holiday", "Holiday"]


def test_a_branch_may_have_other_usual_hours(two, places):
    two.harbour.bench_hours_a_day = Decimal(3)
    assert BenchTime.here(places[1], since=WEDNESDAY).by_weekday[1] == 180


def test_the_feed_carries_what_its_person_sees(two, places):
    ours, theirs = job(two, two.street), job(two, two.harbour)
    workshop = Workshop.here()
    told = {name: calendar_text(workshop, getattr(two, name)).decode() for name in ("ada", "ben", "hugo")}
    assert [ours.number in text for text in told.values()] == [True, True, False]
    assert [theirs.number in text for text in told.values()] == [True, False, True]


def test_the_benchs_page_and_the_hours_are_of_the_branch_one_works_in(two, client):
    order = job(two, two.harbour)
    WorkOrder.objects.filter(pk=order.pk).update(state=State.ON_BENCH)
    client.force_login(two.ada)
    assert order.number not in client.get("/bench/").content.decode()
    client.post("/branch/", {"branch": two.harbour.pk})
    assert order.number in client.get("/bench/").content.decode()
    hours = {f"day{n}": "5" for n in range(7)}
    assert client.post("/bench-hours/", hours).status_code == 302
    assert set(BenchHours.objects.values_list("branch", "hours")) == {(two.harbour.pk, Decimal(5))}
    day = f"{today() + timedelta(days=30)}"
    eve = {"first": day, "last": day, "name": "Eve", "branch": ""}
    assert client.post("/bench-hours/close/", eve).status_code == 302
    assert ClosedDays.objects.get().branch is None


def test_a_place_on_the_rack_is_of_one_branch(two, client):
    factories.workshop(rack_slots="A1\nA2")
    order = job(two, two.street)
    services.put_on_rack(order, "A1", by=two.ada)
    client.force_login(two.hanna)
    page = client.get("/counter/?new=Somebody").content.decode()
    assert order.number not in page
    client.force_login(two.cleo)
    assert order.number in client.get("/counter/?new=Somebody").content.decode()
