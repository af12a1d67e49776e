"""What every page has: find box, places, light and dim, questions before what cannot be undone."""

import pytest

from shop.staff.models import Workshop
from tests import factories

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
PHONE = {"width": 390, "height": 844}
LIGHT = "document.documentElement.dataset.light"


def test_the_form_for_signing_in_leads_to_what_was_asked_for(open_as, ada):
    page = open_as(ada, "/office/staff/")
    page.context.clear_cookies()
    page.goto("/office/staff/")
    page.wait_for_url("**/sign-in/?next=/office/staff/")
    page.fill("input[name=username]", ada.username)
    page.fill("input[name=password]", factories.PASSWORD)
    page.press("input[name=password]", "Enter")
    page.wait_for_url("**/office/staff/")
    assert page.locator("h1").inner_text() == "Staff"


def test_light_is_the_systems_until_chosen_and_then_the_devices(open_as, ada):
    page = open_as(ada, "/office/staff/", color_scheme="dark")
    assert page.evaluate(LIGHT) == "dim"
    page.click("[data-switch-light]")
    assert page.evaluate(LIGHT) == "day"
    page.goto("/password/")
    assert page.evaluate(LIGHT) == "day"


def test_first_stop_of_the_keyboard_leads_past_the_head(open_as, ada):
    page = open_as(ada, "/office/staff/")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the content"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "content"


def test_places_fold_into_a_drawer_on_a_phone(open_as, ben):
    page = open_as(ben, "/password/", viewport=PHONE)
    page.get_by_text("Places", exact=True).click()
    drawer = page.locator(".drawer-body")
    assert drawer.get_by_role("link", name="Orders").is_visible()
    assert not drawer.get_by_role("link", name="Invoices").count()
    page.keyboard.press("Escape")
    assert not drawer.is_visible()
    page.get_by_text("Places", exact=True).click()
    drawer.get_by_role("link", name="Bench", exact=True).click()
    page.wait_for_url("**/bench/")


def test_the_drawer_needs_no_script(open_as, ben):
    page = open_as(ben, "/password/", viewport=PHONE, java_script_enabled=False)
    page.click(".drawer > summary")
    page.locator(".drawer-body").get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in/")


def test_a_refused_form_brings_the_reader_to_what_is_wrong(open_as, ada, watch):
    watch.forgive("422")
    page = open_as(ada, "/office/workshop/")
    page.fill("#id_iban", "DE00 1234")
    page.fill("#id_phone", "+44 1632 960200")
    page.get_by_role("button", name="Save").click()
    page.wait_for_selector(".error-summary")
    assert page.evaluate("document.activeElement.className") == "error-summary"
    assert page.input_value("#id_phone") == "+44 1632 960200"
    page.locator(".error-summary a").click()
    assert page.evaluate("document.activeElement.id") == "id_iban"
    assert Workshop.here().phone == ""


@pytest.mark.urls("tests.look_urls")
def test_a_question_is_asked_before_a_form_is_sent(open_as, ada, watch):
    watch.forgive("cannot be parsed")
    page = open_as(ada, "/look/")
    decline = page.get_by_role("button", name="Decline")
    decline.click()
    assert page.get_by_text("Decline the whole order?").is_visible()
    page.get_by_role("button", name="Leave it").click()
    assert page.url.endswith("/look/")
    assert page.locator("#confirm").is_hidden()
    decline.click()
    page.locator("#confirm").get_by_role("button", name="Decline").click()
    page.wait_for_url("**/look/?sure=yes")


@pytest.mark.urls("tests.look_urls")
def test_a_lost_connection_is_said(open_as, ada, watch):
    watch.forgive("cannot be parsed")
    page = open_as(ada, "/look/")
    page.evaluate("document.dispatchEvent(new CustomEvent('htmx:sendError'))")
    assert page.get_by_text("No connection to the workshop's computer").is_visible()
    page.evaluate("document.dispatchEvent(new CustomEvent('htmx:afterOnLoad'))")
    assert not page.get_by_text("No connection to the workshop's computer").is_visible()
