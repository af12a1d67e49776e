"""Two instruments in one visit on a tablet and on a telephone; photographs of marks that outlive a lost connection."""

import re

import pytest
from playwright.sync_api import expect

from shop.orders.models import ConditionMark, WorkOrder
from tests import factories, pictures
from tests.accessible import violations

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
PHONE = {"width": 390, "height": 844}
KEEP = re.compile("/counter/photos/keep/")
# As by a tablet whose clock had lost the time.
TAKEN_LONG_AGO = "async () => { for (const one of await KeptPhotos.all()) await KeptPhotos.put({ ...one, at: 0 }); }"


def photo():
    return {"name": "top.jpg", "mimeType": "image/jpeg", "buffer": pictures.encoded(pictures.image())}


def tap(page, place, x, y, note):
    drawing = page.locator(f"[data-piece='{place}'] [data-outline=front]")
    box = drawing.bounding_box()
    drawing.click(position={"x": box["width"] * x, "y": box["height"] * y})
    page.keyboard.type(note)


def draw(page):
    pad = page.locator("canvas.signature")
    pad.scroll_into_view_if_needed()
    box = pad.bounding_box()
    page.mouse.move(box["x"] + 20, box["y"] + 20)
    page.mouse.down()
    page.mouse.move(box["x"] + 120, box["y"] + 60)
    page.mouse.up()


@pytest.mark.parametrize("viewport", [None, PHONE], ids=["tablet", "phone"])
def test_two_instruments_one_signature_and_a_reload(open_as, cleo, viewport):
    factories.workshop(intake_terms="We ask before we do more.")
    one = factories.instrument(factories.customer(name="Mara Fell"))
    page = open_as(cleo, f"/counter/?instrument={one.pk}", viewport=viewport)
    page.fill("[name=job-complaint]", "Buzzes.")
    page.check("[name=terms-read]")
    draw(page)
    page.get_by_role("button", name="One that is new here").click()
    page.locator("[name='2-instrument-maker']").fill("Tinhollow")
    page.locator("[name='2-instrument-serial']").fill("TH-9")
    page.locator("[name='2-job-complaint']").fill("Rattles.")
    tap(page, 2, 0.6, 0.8, "crack")
    expect(page.locator("#named li")).to_have_count(2)
    assert not page.is_checked("[name=terms-read]")  # it was given for one instrument only
    assert page.input_value("[name=terms-signature]") == ""
    page.evaluate("scrollTo(0, document.body.scrollHeight)")  # the bar at the foot of the window covers nothing there
    assert violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.wait_for_timeout(250)

    page.reload()
    expect(page.locator("[data-piece]")).to_have_count(2)
    expect(page.locator("[name='2-job-complaint']")).to_have_value("Rattles.")
    expect(page.locator("[data-piece='2'] .ol-mark")).to_have_count(1)
    expect(page.locator("#named li").last).to_have_text("Tinhollow, serial TH-9")
    page.check("[name=terms-read]")
    draw(page)
    page.get_by_role("button", name="Book in", exact=True).click()
    page.wait_for_url(re.compile("/counter/booked/"))
    expect(page.get_by_role("link", name="Print the 2 tags")).to_be_visible()
    assert violations(page) == []
    first, second = WorkOrder.objects.order_by("pk")
    assert (first.visit, first.intake_terms) == (second.visit, second.intake_terms)
    assert "2. Tinhollow, serial TH-9" in first.intake_terms
    assert first.signature
    assert second.signature
    assert page.evaluate("Object.keys(localStorage).filter((one) => one.startsWith('book-in:'))") == []


def test_a_second_instrument_can_be_taken_off_again(open_as, cleo):
    one = factories.instrument()
    other = factories.instrument(one.customer, maker="Tinhollow", model_name="Drover", serial="TH-1")
    page = open_as(cleo, f"/counter/?instrument={one.pk}")
    page.fill("[name=job-complaint]", "Buzzes.")
    page.get_by_role("button", name="Tinhollow Drover").click()
    expect(page.locator("[data-piece='2']")).to_be_visible()
    page.get_by_role("button", name="Take it off").click()
    # The button for one more has the focus then, and an address of its own, where nothing is reckoned.
    with page.expect_request(lambda asked: asked.method == "POST") as reckoned:
        page.get_by_role("button", name="Really take it off").click()
    assert reckoned.value.url.endswith("/counter/reckon/")
    expect(page.locator("#reckoned")).to_contain_text("No line yet")
    assert page.locator("main").count() == 1
    page.get_by_role("button", name="Book in", exact=True).click()
    page.wait_for_url(re.compile("/counter/booked/"))
    assert WorkOrder.objects.get().instrument == one != other


def test_a_photograph_of_a_mark_outlives_a_lost_connection_and_a_reload(open_as, cleo, watch):
    watch.forgive("Failed to load resource", "net::ERR")
    one = factories.instrument()
    page = open_as(cleo, f"/counter/?instrument={one.pk}")
    page.route(KEEP, lambda route: route.abort())
    page.fill("[name=job-complaint]", "Buzzes.")
    tap(page, 1, 0.4, 0.8, "dent")
    page.locator("[data-mark-file]").first.set_input_files(photo())
    expect(page.get_by_text("kept here, not yet saved")).to_be_visible()
    page.get_by_role("button", name="Book in", exact=True).click()
    expect(page.locator("[data-photos-late]")).to_be_visible()  # and nothing was booked in without it
    assert not WorkOrder.objects.exists()
    page.wait_for_timeout(250)
    page.evaluate(TAKEN_LONG_AGO)
    page.goto(f"{page.url.split('?')[0]}?new=Somebody")  # another form lets go of what nobody will send any more
    page.go_back()
    expect(page.get_by_text("kept here, not yet saved")).to_be_visible()
    assert page.input_value("[name=marks-0-note]") == "dent"

    page.unroute(KEEP)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.get_by_text("kept here, not yet saved")).to_be_hidden()
    page.reload()
    picture = page.locator("[data-mark-picture] img")
    expect(picture).to_be_visible()
    page.wait_for_function("(one) => one.complete && one.naturalWidth > 0", arg=picture.element_handle())
    page.get_by_role("button", name="Book in", exact=True).click()
    page.wait_for_url(re.compile("/counter/booked/"))
    assert ConditionMark.objects.get().photo.order == WorkOrder.objects.get()


def test_a_file_that_is_no_photograph_is_said_beside_its_mark(open_as, cleo, watch):
    watch.forgive("422")
    page = open_as(cleo, f"/counter/?instrument={factories.instrument().pk}")
    page.fill("[name=job-complaint]", "Buzzes.")
    tap(page, 1, 0.4, 0.8, "dent")
    bad = {"name": "top.jpg", "mimeType": "image/jpeg", "buffer": b"<svg/>"}
    page.locator("[data-mark-file]").first.set_input_files(bad)
    expect(page.locator("[data-mark-picture]").first).to_contain_text("This is not a photograph")
    assert page.input_value("[name=marks-0-photo]") == ""
