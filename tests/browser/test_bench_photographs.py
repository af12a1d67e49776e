"""A photograph from the tablet's camera, on a step: kept in place, kept back when the line is cut, removed again."""

import pytest
from playwright.sync_api import expect

from shop.orders.models import Photo
from tests import factories, pictures, worksheet_builders

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def sheet(ben):
    return worksheet_builders.worksheet(worksheet_builders.at_bench(factories.instrument(), ben), ben)


def taken():
    return {"name": "camera.jpg", "mimeType": "image/jpeg", "buffer": pictures.encoded(pictures.image(1200, 900))}


def test_it_is_kept_without_leaving_the_step_and_removed_again(open_as, ben, sheet, watch):
    watch.forgive("ERR_INTERNET_DISCONNECTED")
    page = open_as(ben, f"/bench/{sheet.pk}/tail/")
    page.get_by_label("What it shows").fill("string on the edge")
    page.context.set_offline(True)
    page.locator("input[capture]").set_input_files(taken())
    expect(page.locator(".photo-ways [data-form-says]")).to_contain_text("No connection")
    assert not Photo.objects.exists()
    page.context.set_offline(False)
    page.locator("input[capture]").set_input_files(taken())
    expect(page.locator(".step-photos img")).to_have_attribute("alt", "After: string on the edge, 1")
    expect(page.locator(".photo-ways [data-form-says]")).to_be_hidden()
    page.get_by_role("button", name="Remove photograph 1").click()
    page.get_by_role("dialog").get_by_role("button", name="Remove").click()
    expect(page.locator(".step-photos img")).to_have_count(0)
    assert not Photo.objects.exists()
