"""The customer answers on a phone, and a promise is moved by keyboard, in a real browser."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone
from icalendar import Calendar

from shop.handover.customer_page import address_of
from shop.orders import services
from shop.orders.models import Agreement, ClosedDays, WorkOrder
from shop.orders.services import NewLine
from tests import factories
from tests.accessible import violations
from tests.counter_builders import booked

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
PHONE = {"width": 390, "height": 844}


@pytest.fixture
def order(transactional_db):
    by = factories.cleo()
    lines = (NewLine("Setup", Decimal(85), Decimal(20), minutes=90), NewLine("New nut", Decimal(60), Decimal(20)))
    day = timezone.localdate() + timedelta(days=7)
    one = booked(by, lines=lines, promised_on=day)
    sums = services.sums_of(one, factories.workshop()) | {"net": "120.83", "tax": "24.17", "total": "145.00"}
    services.record_quote(one, list(one.lines.all()), sums, valid_until=day, by=by)
    services.link_for_mail(one, by=by)
    return one


@pytest.mark.parametrize("viewport", [PHONE, {"width": 1280, "height": 900}], ids=["telephone", "desk"])
def test_the_customer_answers(chromium, live_server, watch, order, viewport):
    page = chromium.new_context(viewport=viewport, base_url=live_server.url).new_page()
    watch.over(page)
    page.goto("/" + address_of(services.current_link(order)).split("/", 3)[3])
    assert violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    page.get_by_label("I agree").first.check()
    page.get_by_label("I decline").last.check()
    page.get_by_label("Your name").fill("Mara Fell")
    page.get_by_role("button", name="Send my answer").click()
    page.get_by_text("Thank you.").wait_for()
    assert [line.agreement for line in order.lines.all()] == [Agreement.AGREED, Agreement.DECLINED]
    page.context.close()


@pytest.mark.parametrize("viewport", [None, PHONE])
def test_a_promise_is_moved_by_keyboard(open_as, order, viewport):
    page = open_as(order.booked_by, "/calendar/", viewport=viewport)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.locator(f'[data-job="{order.number}"] a').focus()
    page.keyboard.press("Alt+ArrowRight")
    page.wait_for_url(lambda url: "#o-" in url)
    moved = WorkOrder.objects.get(pk=order.pk)
    assert moved.promised_on == order.promised_on + timedelta(days=1)


def monday_after(order):
    return order.promised_on + timedelta(days=7 - order.promised_on.weekday())


def test_a_promise_passes_closed_days_by(open_as, order):
    """By keyboard, past the days on which no customer can come."""
    monday = monday_after(order)
    ClosedDays.objects.create(first=monday + timedelta(days=1), last=monday + timedelta(days=2), name="Rest")
    services.promise(order, monday, by=order.booked_by)
    page = open_as(order.booked_by, f"/calendar/?from={monday.isoformat()}")
    page.locator(f'[data-job="{order.number}"] a').focus()
    page.keyboard.press("Alt+ArrowRight")
    page.wait_for_url(lambda url: "#o-" in url)
    assert WorkOrder.objects.get(pk=order.pk).promised_on == monday + timedelta(days=3)


@pytest.mark.parametrize(("viewport", "later"), [(None, 4), (PHONE, 1)], ids=["tablet", "telephone"])
def test_a_promise_is_dragged(open_as, order, viewport, later):
    """To a day that is in sight."""
    monday = monday_after(order)
    services.promise(order, monday, by=order.booked_by)
    target = monday + timedelta(days=later)
    page = open_as(order.booked_by, f"/calendar/?from={monday.isoformat()}", viewport=viewport)
    page.locator(f'[data-job="{order.number}"]').scroll_into_view_if_needed()
    drag(page, f'[data-job="{order.number}"]', f'[data-day="{target.isoformat()}"] h2')
    page.locator(f'[data-day="{target.isoformat()}"] [data-job="{order.number}"]').wait_for()
    assert WorkOrder.objects.get(pk=order.pk).promised_on == target


@pytest.mark.parametrize("viewport", [None, PHONE], ids=["tablet", "telephone"])
def test_a_calendar_elsewhere_subscribes_until_the_address_is_withdrawn(open_as, order, viewport):
    page = open_as(order.booked_by, "/calendar/", viewport=viewport)
    page.get_by_role("button", name="Make an address").click()
    address = page.get_by_label("Your address").input_value()
    stranger = page.context.browser.new_context()
    answer = stranger.request.get(address)
    assert answer.headers["content-type"].startswith("text/calendar")
    events = Calendar.from_ical(answer.text()).walk("VEVENT")
    assert [(order.number in one["summary"], one.decoded("dtstart")) for one in events] == [(True, order.promised_on)]
    page.get_by_role("button", name="New address").click()
    page.wait_for_function("old => document.querySelector('#feed-address')?.value !== old", arg=address)
    newer = page.get_by_label("Your address").input_value()
    assert [stranger.request.get(one).status for one in (address, newer)] == [404, 200]
    page.get_by_role("button", name="Withdraw it").click()
    page.get_by_role("button", name="Make an address").wait_for()
    assert stranger.request.get(newer).status == 404
    stranger.close()


def drag(page, what, where):
    """As a hand does it: in many small moves. In a single one the browser may take it for a click."""
    (x, y), (to_x, to_y) = (centre_of(page, one) for one in (what, where))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 8, y + 8, steps=4)
    page.mouse.move(to_x, to_y, steps=12)
    page.mouse.up()


def centre_of(page, selector):
    box = page.locator(selector).bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
