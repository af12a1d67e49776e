"""Dates that cannot be, where something is quoted and handed over: said beside the field, kept, nothing half done."""

import re
from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from shop.handover.models import OutgoingMail
from shop.handover.services import collect
from shop.lib.dates import today
from shop.orders import services
from shop.orders.models import ClosedDays, Quote, WorkOrder
from shop.orders.services import NewLine
from shop.staff.models import Workshop
from shop.staff.zone import in_workshop
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db
LINE = NewLine("Setup", Decimal(85), Decimal(20))


@pytest.mark.parametrize(
    ("typed", "says"),
    [("2020-03-01", "Sun 1 Mar 2020 is past."), ("9999-12-31", "more than two years away"),
     ("2027-02-29", "There is no day “2027-02-29”.")],
)  # fmt: skip
def test_a_quote_is_not_valid_until_then(as_person, cleo, typed, says):
    order = booked(cleo, lines=(LINE,))
    answer = as_person(cleo).post(f"/orders/{order.number}/quote/mail/", {"valid_until": typed})
    assert answer.status_code == 422
    assert says in answer.text
    assert f'value="{typed}"' in answer.text
    assert not Quote.objects.exists()
    assert not OutgoingMail.objects.exists()


@pytest.fixture
def ready(cleo):
    """An order that came a week ago and is ready since."""
    order = booked(cleo)
    came = timezone.now() - timedelta(days=7)
    WorkOrder.objects.filter(pk=order.pk).update(state="ready", booked_at=came, state_since=came)
    return WorkOrder.objects.get(pk=order.pk)


@pytest.mark.parametrize(
    ("days", "says"), [(-8, "nobody can have collected it before"), (1, "is still to come")], ids=["before", "tomorrow"]
)
def test_it_is_not_collected_before_it_came_nor_tomorrow(as_person, cleo, ready, days, says):
    with in_workshop(Workshop.here()):
        day = today() + timedelta(days=days)
    answer = as_person(cleo).post(f"/orders/{ready.number}/collect/", {"collected_on": day.isoformat()})
    assert answer.status_code == 422
    assert says in answer.text
    assert f'value="{day.isoformat()}"' in answer.text
    ready.refresh_from_db()
    assert (ready.state, ready.closed_at) == ("ready", None)


def test_what_went_the_day_before_yesterday_says_so(as_person, cleo, ready):
    day = timezone.localdate() - timedelta(days=2)
    as_person(cleo).post(f"/orders/{ready.number}/collect/", {"collected_on": day.isoformat()})
    ready.refresh_from_db()
    assert (ready.state, timezone.localdate(ready.closed_at)) == ("collected", day)
    assert f"{day.day} " in ready.events.last().text


def test_the_form_names_no_day_that_would_be_yesterday_when_the_page_stood_open_overnight(as_person, cleo, ready):
    page = as_person(cleo).get(f"/orders/{ready.number}/collect/").text
    assert "value=" not in re.search(r'<input[^>]*name="collected_on"[^>]*>', page)[0]


def test_on_the_day_it_came_it_is_collected_after_it_came(cleo, ready):
    early = services.noon_of(timezone.localdate(ready.booked_at)) + timedelta(hours=3)
    WorkOrder.objects.filter(pk=ready.pk).update(booked_at=early)
    ready.refresh_from_db()
    collect(ready, by=cleo, collected_on=timezone.localdate(early))
    ready.refresh_from_db()
    assert ready.closed_at >= ready.booked_at


@pytest.mark.parametrize(
    ("first", "last", "says"),
    [("2020-12-24", "2020-12-26", "is past"), ("9998-03-02", "9998-03-01", "The last day is before the first."),
     ("2027-03-01", "9999-12-31", "That is more than a year."), ("2027-02-29", "2027-03-01", "Enter a valid date.")],
)  # fmt: skip
def test_a_workshop_is_not_closed_then(as_person, ada, first, last, says):
    answer = as_person(ada).post("/bench-hours/close/", {"first": first, "last": last, "name": "Rest"})
    assert answer.status_code == 422
    assert says in answer.text
    assert f'value="{first}"' in answer.text
    assert not ClosedDays.objects.exists()
