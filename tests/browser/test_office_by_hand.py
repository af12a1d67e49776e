"""Stock, figures, data and the first set-up, used by hand at a desk and on a telephone."""

import pytest

from shop.people.models import Customer
from shop.staff import setting_up
from shop.staff.models import Workshop
from shop.stock.levels import on_hand
from tests import factories
from tests.stock_builders import part

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
SIZES = [{"width": 1280, "height": 900}, {"width": 390, "height": 844}]


def fits(page):
    return page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


@pytest.mark.parametrize("viewport", SIZES, ids=["desk", "telephone"])
def test_counting_and_a_delivery(transactional_db, open_as, viewport):
    ada = factories.ada()
    first, second = part("Socket", place="drawer 1"), part("Studs", place="drawer 2")
    page = open_as(ada, "/stock/count/", viewport=viewport)
    field = page.get_by_label("How many lie there?")
    assert field.bounding_box()["height"] >= 80
    field.fill("7")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Studs").wait_for()
    page.get_by_label("How many lie there?").fill("2,5")
    page.get_by_role("button", name="Counted").click()
    page.wait_for_url("**/stock/")
    assert (on_hand(first), float(on_hand(second))) == (7, 2.5)
    assert fits(page)


@pytest.mark.parametrize("viewport", SIZES, ids=["desk", "telephone"])
def test_a_table_is_read_in_and_the_figures_open(transactional_db, open_as, viewport):
    page = open_as(factories.ada(), "/office/data/customers/", viewport=viewport)
    table = {"name": "table.csv", "mimeType": "text/csv", "buffer": "name,e-mail\nLéa Odell,lea@example.com\n".encode()}
    page.get_by_label("The file").set_input_files(table)
    page.get_by_role("button", name="Look it through").click()
    page.get_by_role("button", name="Write all 1").click()
    page.wait_for_url("**/office/data/")
    assert Customer.objects.get().name == "Léa Odell"
    page.goto("/figures/")
    assert page.get_by_role("heading", name="Revenue").is_visible()
    assert fits(page)


@pytest.mark.parametrize("viewport", SIZES, ids=["desk", "telephone"])
def test_the_first_set_up(transactional_db, open_as, viewport):
    setting_up.begin()
    page = open_as(factories.ada(), "/", viewport=viewport)
    page.wait_for_url("**/set-up/you/")
    page.get_by_label("Your name").fill("Ada Reed")
    page.get_by_role("button", name="Save and go on").click()
    page.wait_for_url("**/set-up/shop/")
    page.get_by_label("Name", exact=False).first.fill("Reed & Bow")
    page.get_by_role("button", name="Save and go on").click()
    page.wait_for_url("**/set-up/money/")
    assert fits(page)
    page.get_by_role("button", name="Later").click()
    page.wait_for_url("**/office/")
    assert page.get_by_role("link", name="Go on with it").is_visible()
    assert Workshop.here().name == "Reed & Bow"
