"""Opening hours: written down day by day, told to customers, never promised against. 28 Nov 2026 is a Saturday."""

from datetime import date, datetime
from unittest.mock import patch
from zoneinfo import ZoneInfo

import pytest

from shop.handover import papers
from shop.handover.customer_page import CustomerPage
from shop.orders.models import ClosedDays, WorkOrder
from shop.staff.models import Workshop
from tests import factories
from tests.counter_builders import booked, form_data
from tests.papers import reading
from tests.staff.test_workshop_details import filled

pytestmark = pytest.mark.django_db
TUE_TO_SAT = "Tue–Fri 10:00–18:00\nSat 10:00–14:00"
SATURDAY = datetime(2026, 11, 28, 12, tzinfo=ZoneInfo("Europe/Berlin"))
ADDRESS = "/bench-hours/opening/"


@pytest.fixture(autouse=True)
def on_a_saturday():
    with patch("django.utils.timezone.now", lambda: SATURDAY):
        yield


@pytest.fixture
def shop(db):
    return factories.workshop(opening_hours=TUE_TO_SAT)


def hours(**typed):
    usual = {f"{name}{day}": at for day in range(1, 5) for name, at in (("opens", "10"), ("closes", "18:00"))}
    return usual | typed


def test_the_owner_writes_them_day_by_day(as_person, ada):
    tuesday = {"opens1": "9", "closes1": "12:30", "again1": "14", "until1": "18"}
    as_person(ada).post(ADDRESS, hours(opens5="10", closes5="2pm", **tuesday))
    assert Workshop.here().opening_hours == "Tue 09:00–12:30, 14:00–18:00\nWed–Fri 10:00–18:00\nSat 10:00–14:00"
    text = as_person(ada).get("/bench-hours/").content.decode()
    assert "Said as: Tue 09:00–12:30, 14:00–18:00; Wed–Fri 10:00–18:00; Sat 10:00–14:00." in text


@pytest.mark.parametrize(
    ("typed", "field", "says"),
    [
        ({"closes2": "9"}, "opens2", "It closes before it opens."),
        ({"closes2": ""}, "closes2", "Write both, when it opens and when it closes."),
        ({"again2": "17", "until2": "19"}, "opens2", "The second span begins before the first one ends."),
        ({"opens2": "late"}, "opens2", "“late” is no time of the day."),
        ({"opens2": "25"}, "opens2", "is no time of the day."),
    ],
)
def test_what_cannot_be_is_said_beside_its_day_and_nothing_is_saved(as_person, ada, shop, typed, field, says):
    answer = as_person(ada).post(ADDRESS, hours(**typed))
    assert answer.status_code == 422
    assert says in " ".join(answer.context["opening_form"].errors[field])
    assert all(f'value="{value}"' in answer.content.decode() for value in typed.values() if value)
    assert Workshop.here().opening_hours == TUE_TO_SAT


def test_the_details_take_them_as_people_write_them(as_person, ada):
    client = as_person(ada)
    client.post("/office/workshop/", filled(opening_hours="tue-fri 10-18; Sat 10-14"))
    assert Workshop.here().opening_hours == TUE_TO_SAT
    answer = client.post("/office/workshop/", filled(opening_hours="when we are in"))
    assert answer.status_code == 422
    assert "no day and no time" in answer.text
    assert "when we are in" in answer.text


def test_hours_that_were_written_freely_once_are_shown_and_not_used(as_person, ada, cleo):
    factories.workshop(opening_hours="whenever the kettle is on")
    assert "cannot be read as hours" in as_person(ada).get("/bench-hours/").content.decode()
    assert as_person(cleo).get("/counter/?new=").status_code == 200


@pytest.mark.parametrize("state", ["ready", "declined"])
def test_a_customer_is_told_when_to_collect(cleo, shop, state):
    order = booked(cleo)
    WorkOrder.objects.filter(pk=order.pk).update(state=state)
    order.refresh_from_db()
    assert CustomerPage.of(order).comes == "You can collect it today until 14:00."
    ClosedDays.objects.create(first=date(2026, 11, 28), last=date(2026, 12, 1), name="Stocktaking")
    assert CustomerPage.of(order).comes == "You can collect it from Wed, 10:00."


def test_and_when_the_workshop_is_open(cleo, shop):
    assert CustomerPage.of(booked(cleo)).comes == "Open today until 14:00."


def test_the_receipt_says_it(cleo, shop):
    text = " ".join(reading.text(papers.receipt_pdf([booked(cleo)], shop)).split())
    assert "We are open Tue–Fri 10:00–18:00; Sat 10:00–14:00." in text


def test_a_day_on_which_nobody_can_come_is_never_proposed(as_person, cleo, shop):
    """The bench would be free on Monday; the door is open on Tuesday again."""
    page = as_person(cleo).get("/counter/?new=").content.decode()
    assert 'data-proposed="2026-12-01"' in page
    assert 'value="2026-12-01"' in page


PLACES = {
    "book-in": ("/counter/book-in/", lambda day: form_data(**{"job-promised_on": day})),
    "order": ("/orders/{}/promise/", lambda day: {"promised_on": day, "reason": "asked for"}),
}
IMPOSSIBLE = {
    "a closed weekday": ("2026-11-29", "The workshop is closed on Sun 29 Nov 2026. It is open on Tue 1 Dec 2026."),
    "a holiday": ("2026-12-24", "The workshop is closed on Thu 24 Dec 2026 (Holidays). It is open on Sat 26 Dec 2026."),
    "yesterday": ("2026-11-27", "Fri 27 Nov 2026 is past."),
    "no leap year": ("2027-02-29", "There is no day “2027-02-29”."),
    "the end of time": ("9999-12-31", "Fri 31 Dec 9999 is more than two years away."),
    "the year nought": ("0000-01-01", "There is no day “0000-01-01”."),
    "a moment": ("2027-03-28T02:30", "There is no day “2027-03-28T02:30”."),
    "words": ("next week", "There is no day “next week”."),
}


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize(("day", "says"), IMPOSSIBLE.values(), ids=IMPOSSIBLE)
def test_an_impossible_promise_is_said_and_kept_and_nothing_else_is_saved(as_person, cleo, shop, place, day, says):
    ClosedDays.objects.create(first=date(2026, 12, 24), last=date(2026, 12, 25), name="Holidays")
    order = booked(cleo, promised_on=date(2026, 12, 1))
    address, typed = PLACES[place]
    answer = as_person(cleo).post(address.format(order.number), typed(day))
    text = answer.content.decode()
    assert answer.status_code == 422
    assert says in text
    assert f'value="{day}"' in text
    assert WorkOrder.objects.get().promised_on == date(2026, 12, 1)
    if place == "order":
        assert "asked for" in text


@pytest.mark.parametrize(("day", "says"), IMPOSSIBLE.values(), ids=IMPOSSIBLE)
def test_the_calendar_moves_nothing_there(as_person, cleo, shop, day, says):
    ClosedDays.objects.create(first=date(2026, 12, 24), last=date(2026, 12, 25), name="Holidays")
    order = booked(cleo, promised_on=date(2026, 12, 1))
    answer = as_person(cleo).post("/calendar/move/", {"number": order.number, "day": day}, follow=True)
    assert says in answer.content.decode()
    assert WorkOrder.objects.get().promised_on == date(2026, 12, 1)


def test_without_hours_only_closed_days_are_kept_free(as_person, cleo):
    order, client = booked(cleo), as_person(cleo)
    assert client.post(f"/orders/{order.number}/promise/", {"promised_on": "2026-11-29"}).status_code == 302
    ClosedDays.objects.create(first=date(2026, 11, 30), last=date(2026, 11, 30), name="Rest")
    assert client.post(f"/orders/{order.number}/promise/", {"promised_on": "2026-11-30"}).status_code == 422
