"""Stock, figures, data and the first set-up, used by hand at a desk and on a telephone."""

import time
from pathlib import Path

import pytest
from django.core.files.storage import default_storage

from shop.figures.carrying import running
from shop.people.models import Customer
from shop.staff import setting_up
from shop.staff.models import Workshop
from shop.stock.levels import on_hand
from tests import factories
from tests.accessible import violations
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
def test_an_address_card_goes_out_and_comes_in(transactional_db, open_as, viewport):
    mara = factories.customer(name="Mara Fell", phone="01632 960123", email="mara@example.com")
    page = open_as(factories.ada(), f"/customers/{mara.pk}/", viewport=viewport)
    with page.expect_download() as caught:
        page.get_by_role("link", name="Address card").click()
    card = Path(caught.value.path()).read_bytes()
    Customer.objects.all().delete()
    page.goto("/office/data/customers/")
    page.get_by_label("The file").set_input_files({"name": "mara.vcf", "mimeType": "text/vcard", "buffer": card})
    page.get_by_role("button", name="Look it through").click()
    assert page.get_by_role("cell", name="mara@example.com").is_visible()
    page.get_by_role("button", name="Write all 1").click()
    page.wait_for_url("**/office/data/")
    back = Customer.objects.get()
    assert (back.name, back.email, back.phone_digits) == (mara.name, mara.email, mara.phone_digits)
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


@pytest.mark.parametrize("viewport", SIZES, ids=["desk", "telephone"])
def test_a_list_is_sorted_and_kept_and_two_records_become_one(transactional_db, open_as, viewport):
    kept = factories.customer(name="Mara Fell")
    factories.customer(name="M. Fell", phone="01632 960123", email="m@example.com")
    page = open_as(factories.ada(), "/customers/", viewport=viewport)
    if viewport["width"] > 1000:
        page.get_by_role("link", name="On file since").click()
        assert page.locator("th[aria-sort=descending]").inner_text() == "On file since"
    else:
        page.get_by_label("Sorted by").select_option("-since")
    page.wait_for_url("**sort=-since*")
    page.get_by_text("Keep this view").click()
    page.get_by_label("Under the name").fill("Newest")
    page.get_by_role("button", name="Keep it").click()
    page.get_by_role("link", name="Newest", exact=True).wait_for()
    page.get_by_role("link", name="Mara Fell").click()
    page.get_by_role("link", name="Look at both").click()
    assert violations(page) == []
    page.get_by_role("group", name="E-mail").get_by_label("m@example.com").check()
    page.get_by_role("button", name="Merge them").click()
    page.get_by_role("dialog").get_by_role("button", name="Merge them").click()
    page.get_by_text("One record now").wait_for()
    assert Customer.objects.get().email == "m@example.com"
    page.get_by_text("M. Fell was merged into this record").click()
    page.get_by_role("button", name="Take them apart").click()
    page.get_by_role("dialog").get_by_role("button", name="Take them apart").click()
    page.get_by_role("heading", name="M. Fell").wait_for()
    assert Customer.objects.get(pk=kept.pk).email == "mara@example.com"
    assert fits(page)


@pytest.fixture
def writes_until_stopped(monkeypatch):
    """Writing waits at its first word for the button, so that it cannot be over before it is pressed."""
    real = running._report

    def patient(name, stage):
        def report(done, of):
            until = time.monotonic() + 25
            while stage == running.WRITING and not default_storage.exists(f"{name}.stop") and time.monotonic() < until:
                time.sleep(0.05)
            real(name, stage)(done, of)

        return report

    monkeypatch.setattr(running, "_report", patient)


def test_a_long_table_is_told_and_stopped(transactional_db, open_as, writes_until_stopped):
    rows = "".join(f"Person {n},p{n}@example.com\n" for n in range(4_000))
    page = open_as(factories.ada(), "/office/data/customers/", viewport=SIZES[1])
    table = {"name": "t.csv", "mimeType": "text/csv", "buffer": f"name,e-mail\n{rows}".encode()}
    page.get_by_label("The file").set_input_files(table)
    page.get_by_role("button", name="Look it through").click()
    page.get_by_role("button", name="Write all 4000").click()
    page.get_by_role("button", name="Stop").click()
    page.get_by_text("Stopped. Nothing was written.").wait_for()
    assert not Customer.objects.exists()
    assert violations(page) == []


@pytest.mark.parametrize("viewport", SIZES, ids=["desk", "telephone"])
def test_settings_are_mended_and_a_person_is_given_out_and_erased(transactional_db, open_as, watch, viewport):
    watch.forgive("422")  # that is what a refusal is
    who = factories.customer()
    page = open_as(factories.ada(), "/office/workshop/", viewport=viewport)
    page.get_by_label("Currency").fill("eu")
    page.get_by_label("First reminder, days").fill("10")
    page.get_by_role("button", name="Save").click()
    page.get_by_text("three capital letters").first.wait_for()
    assert page.get_by_label("First reminder, days").input_value() == "10"
    assert violations(page) == []
    page.get_by_label("Currency").fill("chf")
    page.get_by_role("button", name="Save").click()
    page.get_by_text("details are saved").wait_for()
    assert (Workshop.here().currency, Workshop.here().collect_after_days) == ("CHF", 10)
    page.goto(f"/customers/{who.pk}/data/")
    with page.expect_download() as given:
        page.get_by_role("link", name="Give it out").click()
    assert given.value.suggested_filename.endswith(".zip")
    page.get_by_label("Type the customer's name").fill("Mara Fell")
    page.get_by_role("button", name="Erase Mara Fell").click()
    page.get_by_role("dialog").get_by_role("button", name="Erase Mara Fell").click()
    page.wait_for_url("**/customers/")
    assert not Customer.objects.exists()
