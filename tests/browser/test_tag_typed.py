"""A tag scanned or typed on any page opens its order; fields, dialogs and the bench keep their keys."""

import re

import pytest
from playwright.sync_api import expect

from shop.orders.models import WorkOrder
from tests import factories
from tests.accessible import violations
from tests.counter_builders import booked

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
PHONE = {"width": 390, "height": 844}


@pytest.fixture
def order(transactional_db):
    return booked(factories.cleo())


def is_at(page, order):
    page.wait_for_url(re.compile(f"/orders/{order.number}/$"))


@pytest.mark.parametrize("viewport", [None, PHONE], ids=["tablet", "phone"])
def test_digits_and_enter_open_the_order(open_as, order, viewport):
    page = open_as(order.booked_by, "/orders/", viewport=viewport)
    hint = page.locator("[data-tag-hint]")
    page.keyboard.type(order.number.replace("-", ""))
    expect(hint).to_be_visible()
    expect(hint).to_contain_text(order.number.replace("-", ""))
    assert violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.keyboard.press("Escape")
    expect(hint).to_be_hidden()
    page.keyboard.press("Enter")  # nothing is left of it
    assert page.url.endswith("/orders/")
    page.keyboard.type(order.number)
    page.keyboard.press("Enter")
    is_at(page, order)


def test_the_code_on_our_own_tag_read_by_a_scanner(open_as, order):
    page = open_as(order.booked_by, "/office/")
    page.keyboard.type(f"http://127.0.0.1:8000/t/{order.number}/")
    page.keyboard.press("Enter")
    is_at(page, order)


def test_a_link_keeps_its_enter_unless_a_whole_number_went_before_it(open_as, order):
    page = open_as(order.booked_by, "/orders/")
    link = page.get_by_role("link", name="Customers", exact=True).first
    link.focus()
    page.keyboard.type("1")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile("/customers/"))
    page.get_by_role("link", name="Orders", exact=True).first.focus()
    page.keyboard.type(order.number)
    page.keyboard.press("Enter")
    is_at(page, order)


def test_fields_and_dialogs_keep_their_keys(open_as, order):
    WorkOrder.objects.filter(pk=order.pk).update(state="on_bench")
    page = open_as(order.booked_by, f"/orders/{order.number}/")
    hint = page.locator("[data-tag-hint]")
    field = page.get_by_label("Rack", exact=True)
    field.focus()
    page.keyboard.type("260001")
    assert field.input_value() == "260001"
    expect(hint).to_be_hidden()
    page.locator("h1").click()
    page.keyboard.press("Control+1")
    page.keyboard.type("x26")
    expect(hint).to_have_text(re.compile("26"))
    page.evaluate("document.getElementById('confirm').showModal()")
    page.keyboard.type("01")
    expect(hint).to_be_hidden()


def test_a_number_that_is_none_says_so(open_as, order):
    page = open_as(order.booked_by, "/office/")
    page.keyboard.type("269999")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Nothing on file fits that")).to_be_visible()
