"""The promise calendar as other calendars read it: RFC 5545, one day-long event an order, at a private address."""

import secrets
from datetime import timedelta

from django.conf import settings
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar, Event

from shop.lib.dates import today
from shop.orders.load import with_minutes
from shop.orders.models import CalendarFeed, WorkOrder

BEHIND = timedelta(days=60)


def feed_of(person):
    return CalendarFeed.objects.filter(person=person).first()


def renew_feed(person):
    """A new private address for `person`; an older one opens nothing any more."""
    made = {"key": secrets.token_urlsafe(32), "made_at": timezone.now()}
    return CalendarFeed.objects.update_or_create(person=person, defaults=made)[0]


def withdraw_feed(person):
    CalendarFeed.objects.filter(person=person).delete()


def feed_with(key):
    """The living feed of that key, of a person who may still sign in; or None."""
    return CalendarFeed.objects.filter(key=key, person__is_active=True).select_related("person").first()


def calendar_text(workshop, person):
    """All promises that `person` sees from two months ago on as an iCalendar stream, in bytes. One query."""
    calendar = Calendar()
    calendar.add("prodid", "-//Workshop//Promises//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", f"{workshop.name}: promises")
    promised = WorkOrder.objects.for_person(person).to_do().filter(promised_on__gte=today() - BEHIND)
    for order in with_minutes(promised).with_parties().order_by("promised_on", "pk"):
        calendar.add_component(_event(order))
    return calendar.to_ical()


def _event(order):
    event = Event()
    event.add("uid", f"promise-{order.number}@{settings.PUBLIC_HOST}")
    event.add("dtstamp", timezone.now())
    event.add("dtstart", order.promised_on)
    event.add("dtend", order.promised_on + timedelta(days=1))  # the day after: RFC 5545, 3.6.1
    event.add("summary", f"{order.number} {order.instrument}")
    event.add("description", f"{order.customer}, {order.get_state_display()}. {order.complaint}"[:500])
    event.add("url", f"{settings.PUBLIC_ADDRESS}{reverse('order', args=[order.number])}")
    event.add("transp", "TRANSPARENT")
    return event
