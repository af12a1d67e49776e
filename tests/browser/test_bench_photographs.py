"""A photograph from the tablet's camera, on a step: kept in place, kept back when the line is cut, removed again."""

import re

import pytest
from playwright.sync_api import expect

from shop.orders.models import Photo
from tests import factories, pictures, worksheet_builders
from tests.accessible import violations

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
ADDRESS = re.compile("/tail/photos/$")
WAITING, KEPT = "[data-waiting-photos] li", "[data-piece=photos] img"


@pytest.fixture
def sheet(ben):
    return worksheet_builders.worksheet(worksheet_builders.at_bench(factories.instrument(), ben), ben)


def taken(content=None):
    content = content or pictures.encoded(pictures.image(1200, 900))
    return {"name": "camera.jpg", "mimeType": "image/jpeg", "buffer": content}


def cut_at_once(route):
    route.abort()


def cut_before_the_answer(route):
    """The whole file goes up, and the connection is gone before anything comes back."""
    route.fetch()
    route.abort()


def test_it_is_kept_without_leaving_the_step_and_removed_again(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/tail/")
    page.get_by_label("What it shows").fill("string on the edge")
    page.locator("input[capture]").set_input_files(taken())
    expect(page.locator(KEPT)).to_have_attribute("alt", "After: string on the edge, 1")
    expect(page.locator(WAITING)).to_have_count(0)
    expect(page.get_by_label("What it shows")).to_have_value("")
    page.get_by_role("button", name="Remove photograph 1").click()
    page.get_by_role("dialog").get_by_role("button", name="Remove").click()
    expect(page.locator(KEPT)).to_have_count(0)
    assert not Photo.objects.exists()


@pytest.mark.parametrize("cut", [cut_at_once, cut_before_the_answer])
def test_one_cut_off_outlives_a_reload_and_is_kept_once(open_as, ben, sheet, watch, cut):
    watch.forgive("ERR_FAILED")
    page = open_as(ben, f"/bench/{sheet.pk}/tail/")
    page.route(ADDRESS, cut)
    page.get_by_label("What it shows").fill("string on the edge")
    page.locator("input[capture]").set_input_files(taken())
    expect(page.locator(WAITING)).to_contain_text("kept here, not yet saved")
    page.reload()
    expect(page.locator(WAITING)).to_contain_text("kept here, not yet saved")
    expect(page.locator(WAITING)).to_contain_text("string on the edge")
    assert violations(page) == []
    page.goto(f"/bench/{sheet.pk}/relief/")
    expect(page.locator("[data-photos-elsewhere]")).to_contain_text("(1)")

    page.unroute_all(behavior="ignoreErrors")
    page.goto(f"/bench/{sheet.pk}/tail/")
    expect(page.locator(WAITING)).to_have_count(0)
    expect(page.locator(KEPT)).to_have_count(1)
    assert Photo.objects.get().caption == "After: string on the edge"
    assert sheet.order.events.filter(what="photo_added").count() == 1


def test_what_waits_can_be_taken_away(open_as, ben, sheet, watch):
    watch.forgive("ERR_FAILED")
    page = open_as(ben, f"/bench/{sheet.pk}/tail/")
    page.route(ADDRESS, cut_at_once)
    page.locator("input[capture]").set_input_files(taken())
    page.locator(WAITING).get_by_role("button", name="Remove").click()
    expect(page.locator(WAITING)).to_have_count(0)
    page.unroute(ADDRESS)
    page.reload()
    page.wait_for_load_state("networkidle")
    expect(page.locator(WAITING)).to_have_count(0)
    assert not Photo.objects.exists()


def test_why_a_file_is_refused_stands_beside_it_until_it_is_taken_away(open_as, ben, sheet, watch):
    watch.forgive("422")
    page = open_as(ben, f"/bench/{sheet.pk}/tail/")
    page.locator("input[capture]").set_input_files(taken(b"<script>no photograph</script>"))
    expect(page.locator(WAITING)).to_contain_text("This is not a photograph")
    page.reload()
    expect(page.locator(WAITING)).to_contain_text("This is not a photograph")
    page.locator(WAITING).get_by_role("button", name="Remove").click()
    expect(page.locator(WAITING)).to_have_count(0)
    assert not Photo.objects.exists()
