"""What is late, a promise that cannot be kept, somebody half remembered, and the order to a supplier: by hand."""

import re
from datetime import timedelta

import pytest
from playwright.sync_api import expect

from shop.lib.dates import today
from shop.orders.models import WorkOrder
from tests import factories
from tests.counter_builders import booked, price
from tests.stock_builders import part, supplier

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
SIZES = [{"width": 1280, "height": 900}, {"width": 390, "height": 844}]


@pytest.mark.parametrize("viewport", SIZES, ids=["desk", "telephone"])
def test_a_day_in_the_office(transactional_db, open_as, viewport):
    ada = factories.ada()
    ines = factories.customer(name="Inés Straka", phone="01632 960777")
    late = booked(ada, instrument=factories.instrument(ines))
    WorkOrder.objects.filter(pk=late.pk).update(promised_on=today() - timedelta(days=3))
    price("Refret", minutes=60 * 24 * 4)
    part("Socket", reorder_at=2, order_up_to=6, supplier=supplier())

    page = open_as(ada, "/office/", viewport=viewport)
    page.get_by_role("region", name=re.compile("Late")).get_by_role("link", name="As a list").click()
    page.wait_for_url("**show=late")
    page.get_by_role("link", name=late.number).first.wait_for()

    for remembered in ("ines  STRAKA", "+44 1632-960 777", "960777"):
        page.locator("#find").fill(remembered)
        with page.expect_navigation():
            page.keyboard.press("Enter")
        assert page.get_by_role("link", name=re.compile("Inés Straka")).first.is_visible(), remembered

    page.goto(f"/counter/?instrument={late.instrument_id}")
    page.get_by_text("Refret").click()
    proposed = page.locator("[data-proposed]")
    expect(proposed).to_have_count(1)
    page.locator("[name=job-promised_on]").fill((today() + timedelta(days=1)).isoformat())
    page.locator("[name=job-promised_on]").blur()
    page.locator(".late", has_text=re.compile("Too much by then|Nobody works|closed")).first.wait_for()

    page.goto("/stock/reorder/")
    page.get_by_role("button", name="It is ordered").click()
    page.get_by_text("On its way: 1 item").wait_for()
    assert page.get_by_role("heading", name="On the way").is_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
