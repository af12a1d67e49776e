"""The counter without a pointer, without a script, and on a telephone."""

import re

import pytest
from playwright.sync_api import expect

from shop.orders.models import WorkOrder
from tests import factories, pictures
from tests.counter_builders import booked, price

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_marks_by_keyboard_alone(open_as, cleo):
    one = factories.instrument()
    page = open_as(cleo, f"/counter/?instrument={one.pk}")
    page.fill("[name=job-complaint]", "Rattles.")
    page.locator("[name=marks-0-place]").focus()
    page.keyboard.type("waist, treble")
    page.keyboard.press("Tab")
    page.keyboard.type("dent")
    page.get_by_role("button", name="Add a mark by its place").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("back")
    page.keyboard.press("Tab")
    page.keyboard.type("end of")
    page.keyboard.press("Tab")
    page.keyboard.type("crack")
    expect(page.locator(".ol-mark")).to_have_count(2)
    page.locator("[data-rows=marks] [data-remove-row]").first.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".ol-mark")).to_have_count(1)
    page.get_by_role("button", name="Book in", exact=True).focus()
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile("/counter/booked/"))
    mark = WorkOrder.objects.get().marks.get()
    assert (mark.side, mark.note, mark.x, mark.y) == ("back", "crack", 0.5, 0.945)


PHOTO = {"name": "top.jpg", "mimeType": "image/jpeg", "buffer": pictures.encoded(pictures.image())}


def test_a_blank_row_alone_has_nothing_to_take_off(open_as, cleo):
    page = open_as(cleo, f"/counter/?instrument={factories.instrument().pk}")
    remove = page.locator("[data-rows=marks] [data-remove-row]")
    expect(remove).to_be_hidden()
    page.locator("[name=marks-0-note]").fill("dent")
    expect(remove).to_be_visible()
    page.locator("[name=marks-0-note]").fill("")
    expect(remove).to_be_hidden()
    page.get_by_role("button", name="Add a mark by its place").click()
    expect(remove).to_have_count(2)
    expect(remove.first).to_be_visible()


def test_without_a_script(open_as, cleo, watch):
    """Signing in, finding, booking in with a line and a mark, and a mistake on the way."""
    watch.forgive("422")
    price("Setup", "85.00")
    factories.instrument(factories.customer(name="Mara Fell"))
    page = open_as(cleo, "/counter/", java_script_enabled=False)
    page.fill("#counter-q", "fell")
    page.get_by_role("button", name="Look").click()
    page.get_by_role("link", name=re.compile("Book in Larkrise")).click()
    page.get_by_role("button", name="Book in", exact=True).click()
    expect(page.locator(".error-summary")).to_contain_text("What the customer says")
    page.fill("[name=job-complaint]", "Rattles.")
    page.check("[name=job-items]")
    page.select_option("[name=marks-0-place]", "bridge")
    page.fill("[name=marks-0-note]", "lifting")
    page.set_input_files("[name=marks-0-file]", PHOTO)
    page.set_input_files("[name=job-photos]", [PHOTO, PHOTO])
    page.get_by_role("button", name="One that is new here").click()
    expect(page.locator("#piece-2")).to_be_in_viewport()
    expect(page.locator("[data-mark-picture] img, .photos img")).to_have_count(3)
    page.get_by_role("button", name="Remove photograph 2").click()
    page.fill("[name='2-instrument-maker']", "Tinhollow")
    page.press("[name='2-instrument-maker']", "Enter")  # books in, and presses no other button
    expect(page.locator(".error-summary")).to_contain_text("What the customer says")
    page.fill("[name='2-job-complaint']", "Buzzes.")
    page.get_by_role("button", name="Book in", exact=True).click()
    first, second = WorkOrder.objects.order_by("pk")
    assert (first.lines.get().text, first.marks.get().note, second.complaint) == ("Setup", "lifting", "Buzzes.")
    assert first.photos.count() == 2
    assert first.marks.get().photo.order == first
    expect(page.locator("main")).to_contain_text(first.number)
    expect(page.locator("main")).to_contain_text(second.number)


@pytest.mark.parametrize("width", [1280, 1024, 390])
@pytest.mark.parametrize(
    "path", ["/counter/?q=fell", "/counter/?new=", "/orders/", "/office/", "order", "spec", "strings"]
)
def test_nothing_runs_over_the_edge(open_as, ada, path, width):
    one = factories.instrument(factories.customer(name="Bartholomew Featherstonehaugh-Wolverhampton Fell"))
    order = booked(ada, instrument=one, complaint="x" * 200, rack_slot="B2")
    named = {
        "order": f"/orders/{order.number}/", "spec": f"/instruments/{one.pk}/measurements/",
        "strings": f"/instruments/{one.pk}/strings/",
    }  # fmt: skip
    page = open_as(ada, named.get(path, path), viewport={"width": width, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_touch_is_large_enough_on_a_telephone(open_as, cleo):
    """WCAG 2.2, 2.5.8 asks for 24 px; the workshop's own rule is 44 px."""
    price("Setup")
    one = factories.instrument()
    page = open_as(cleo, f"/counter/?instrument={one.pk}", viewport={"width": 390, "height": 800}, has_touch=True)
    touched = ", ".join(f"form.book-in {one}" for one in ("button", ".pick", "select", "summary", "input[type=text]"))
    heights = page.evaluate(
        """(touched) => [...document.querySelectorAll(touched)].filter((one) => one.offsetParent)
            .map((one) => [one.getBoundingClientRect().height, one.outerHTML.slice(0, 80)])""",
        touched,
    )
    assert len(heights) > 10
    small = [found for found in heights if found[0] < 43.5]
    assert small == []
