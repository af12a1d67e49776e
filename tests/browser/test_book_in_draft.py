"""What is typed at the counter survives a reload, goes along to the right person, and is gone once it is booked in."""

import re

import pytest
from playwright.sync_api import expect

from shop.orders import services
from shop.orders.models import ConditionMark, WorkOrder
from tests import factories, pictures
from tests.counter_builders import booking, price

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def kept(page):
    """The drafts that this browser keeps, once it has had the time to."""
    page.wait_for_timeout(250)
    return page.evaluate("Object.keys(localStorage).filter((one) => one.startsWith('book-in:'))")


def photo():
    return {"name": "top.jpg", "mimeType": "image/jpeg", "buffer": pictures.encoded(pictures.image())}


@pytest.mark.parametrize("viewport", [None, {"width": 390, "height": 844}], ids=["tablet", "telephone"])
def test_a_reload_loses_nothing(open_as, cleo, viewport):
    price("Setup")
    page = open_as(cleo, "/counter/?new=", viewport=viewport)
    page.fill("[name=customer-name]", "Jonas Reed")
    page.fill("[name=customer-phone]", "01632 960555")
    page.select_option("[name=instrument-kind]", "bass")
    page.fill("[name=job-complaint]", "Rattles.")
    page.get_by_text("Setup").click()
    for x, note in ((0.4, "dent"), (0.6, "crack")):
        box = page.locator("[data-outline=front]").bounding_box()
        page.locator("[data-outline=front]").click(position={"x": box["width"] * x, "y": box["height"] * 0.8})
        page.keyboard.type(note)
    page.set_input_files("[name=job-photos]", photo())
    expect(page.locator("[data-drafts] img")).to_have_count(1)
    assert kept(page) == ["book-in:new"]

    page.reload()
    expect(page.locator("[data-draft-notice]")).to_be_visible()
    assert page.input_value("[name=customer-name]") == "Jonas Reed"
    assert page.input_value("[name=instrument-kind]") == "bass"
    assert page.input_value("[name=instrument-string_count]") == "4"
    assert page.is_checked("[name=job-items]")
    assert [page.input_value(f"[name=marks-{row}-note]") for row in (0, 1)] == ["dent", "crack"]
    expect(page.locator("[data-outline=front] .ol-mark")).to_have_count(2)
    expect(page.locator("[data-drafts] img")).to_have_count(1)

    page.get_by_role("button", name="Book in", exact=True).click()
    page.wait_for_url(re.compile("/counter/booked/"))
    order = WorkOrder.objects.get()
    assert (order.photos.count(), order.marks.count(), order.lines.count()) == (1, 2, 1)
    assert kept(page) == []


def test_photographs_that_cannot_be_kept_are_named_and_stay_named(open_as, cleo, watch):
    watch.forgive("422")
    page = open_as(cleo, "/counter/?new=")
    bad = {"name": "page.jpg", "mimeType": "image/jpeg", "buffer": b"<script>no photograph</script>"}
    page.set_input_files("[name=job-photos]", [bad, photo(), bad | {"name": "none.jpg", "buffer": b""}])
    expect(page.locator("[data-drafts] img")).to_have_count(1)
    refused = page.locator("[data-photos-refused] .form-problem")
    expect(refused).to_have_count(2)
    assert sorted(one.split(":")[0] for one in refused.all_inner_texts()) == ["none.jpg", "page.jpg"]
    page.set_input_files("[name=job-photos]", photo())
    expect(page.locator("[data-drafts] img")).to_have_count(2)
    expect(refused).to_have_count(0)


def test_a_mark_of_the_last_visit_is_taken_over_with_a_tap(open_as, cleo):
    one = factories.instrument()
    services.book_in(booking(instrument=one, marks=(
        ConditionMark(side="back", x=0.25, y=0.9, note="buckle rash"), ConditionMark(x=0.5, y=0.75, note="ding"),
    )), by=cleo, afterwards=())  # fmt: skip
    page = open_as(cleo, f"/counter/?instrument={one.pk}", viewport={"width": 390, "height": 844}, has_touch=True)
    page.get_by_role("button", name="Still there: buckle rash").tap()
    expect(page.get_by_role("button", name="Still there")).to_have_count(1)
    expect(page.locator("[data-outline=back] .ol-mark")).to_have_count(1)
    assert page.input_value("[name=marks-0-note]") == "buckle rash"
    page.reload()
    expect(page.locator("[data-outline=back] .ol-mark")).to_have_count(1)
    expect(page.get_by_role("button", name="Still there")).to_have_count(1)
    page.fill("[name=job-complaint]", "Back again.")
    page.get_by_role("button", name="Book in", exact=True).click()
    page.wait_for_url(re.compile("/counter/booked/"))
    [mark] = WorkOrder.objects.latest("pk").marks.all()
    assert (mark.side, mark.x, mark.y, mark.note) == ("back", 0.25, 0.9, "buckle rash")


def test_going_back_and_sending_again_is_the_same_order(open_as, cleo):
    one = factories.instrument()
    page = open_as(cleo, f"/counter/?instrument={one.pk}")
    page.fill("[name=job-complaint]", "Rattles.")
    page.get_by_role("button", name="Book in", exact=True).click()
    page.wait_for_url(re.compile("/counter/booked/"))
    page.go_back()
    page.get_by_role("button", name="Book in", exact=True).wait_for()
    if page.input_value("[name=job-complaint]"):  # the browser may have kept the page as it was
        page.get_by_role("button", name="Book in", exact=True).click()
        page.wait_for_url(re.compile("/counter/booked/"))
    assert WorkOrder.objects.count() == 1


def test_a_form_asked_for_anew_on_going_back_is_the_same_order(open_as, cleo):
    one = factories.instrument()
    page = open_as(cleo, "/you/")
    page.context.clear_cookies(name="csrftoken")  # the form's answer sets it, so what the browser kept is no good
    page.goto(page.url.replace("/you/", f"/counter/?instrument={one.pk}"))
    drafts = []
    for _ in range(2):
        page.fill("[name=job-complaint]", "Rattles.")
        drafts.append(page.input_value("[name=job-draft_key]"))
        page.get_by_role("button", name="Book in", exact=True).click()
        page.wait_for_url(re.compile("/counter/booked/"))
        page.go_back()
        page.get_by_role("button", name="Book in", exact=True).wait_for()
    assert drafts[0] == drafts[1]
    assert WorkOrder.objects.count() == 1


def test_somebody_on_file_takes_over_what_was_typed(open_as, cleo):
    mara = factories.instrument().customer
    page = open_as(cleo, "/counter/?new=")
    page.fill("[name=job-complaint]", "Rattles.")
    page.locator("[name=customer-phone]").type("+44 (0)1632 960123")
    page.get_by_role("link", name="Book in for Mara Fell").click()
    page.wait_for_url(re.compile(f"customer={mara.pk}"))
    assert page.input_value("[name=job-complaint]") == "Rattles."
    assert kept(page) == [f"book-in:customer-{mara.pk}"]


def test_a_draft_is_not_shown_to_another_instruments_form(open_as, cleo):
    one = factories.instrument()
    other = factories.instrument(one.customer, maker="Tinhollow", serial="TH-1")
    page = open_as(cleo, f"/counter/?instrument={one.pk}")
    page.fill("[name=job-complaint]", "Rattles.")
    kept(page)
    page.goto(f"/counter/?instrument={other.pk}")
    assert page.input_value("[name=job-complaint]") == ""


def test_it_can_be_begun_afresh(open_as, cleo):
    page = open_as(cleo, "/counter/?new=")
    page.fill("[name=job-complaint]", "Rattles.")
    kept(page)
    page.reload()
    page.get_by_role("button", name="Begin afresh").click()
    expect(page.locator("[data-draft-notice]")).to_be_hidden()
    assert page.input_value("[name=job-complaint]") == ""


def test_a_refused_form_keeps_what_the_server_shows(open_as, cleo, watch):
    watch.forgive("422")
    page = open_as(cleo, "/counter/?new=")
    page.fill("[name=customer-name]", "Jonas Reed")
    page.get_by_role("button", name="Book in", exact=True).click()
    expect(page.get_by_role("alert").first).to_contain_text("Nothing you typed is lost")
    assert page.input_value("[name=customer-name]") == "Jonas Reed"
    expect(page.locator("[data-draft-notice]")).to_be_hidden()
    page.fill("[name=customer-phone]", "01632 960555")
    page.fill("[name=job-complaint]", "Rattles.")
    page.get_by_role("button", name="Book in", exact=True).click()
    page.wait_for_url(re.compile("/counter/booked/"))
    assert kept(page) == []
