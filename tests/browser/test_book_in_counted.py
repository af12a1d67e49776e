"""From one search box to a printed tag: how often somebody has to touch the screen or type into a field."""

import re

import pytest

from shop.orders.models import WorkOrder
from tests import factories
from tests.counter_builders import booked, price

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
RETURNING, NEW = 8, 20
BOTH = pytest.mark.parametrize("viewport", [None, {"width": 390, "height": 844}], ids=["tablet", "telephone"])


class Counted:
    """A page on which every touch and every field that is typed into counts as one interaction."""

    def __init__(self, page):
        self.page, self.count = page, 0

    def touch(self, target):
        self.count += 1
        target.click()

    def tap(self, selector, x, y):
        self.count += 1
        box = self.page.locator(selector).bounding_box()
        self.page.locator(selector).click(position={"x": box["width"] * x, "y": box["height"] * y})

    def type(self, text, into=None):
        """Type into the field that has the focus, or into the one named, which takes a touch of its own."""
        self.count += 1
        if into:
            self.page.locator(f"[name={into}]").click()
        self.page.keyboard.type(text)

    def choose(self, field, value):
        self.count += 1
        self.page.locator(f"[name={field}]").select_option(value)

    def printed(self):
        """Touch 'print the tag' and give the paper's bytes."""
        self.page.wait_for_url(re.compile("/counter/booked/"))
        link = self.page.get_by_role("link", name="Print the tag")
        self.count += 1
        return self.page.request.get(link.get_attribute("href")).body()


@pytest.fixture
def setup(cleo):
    return price("Setup", "85.00", minutes=90)


@BOTH
def test_somebody_known_with_a_known_instrument(open_as, cleo, setup, viewport):
    factories.instrument(factories.customer(name="Mara Fell"))
    at = Counted(open_as(cleo, "/counter/", viewport=viewport))
    at.type("fell")  # the box has the focus
    at.touch(at.page.get_by_role("link", name=re.compile("Book in Larkrise")))
    at.page.wait_for_url(re.compile("instrument="))
    at.type("Buzzes on the low string.", into="job-complaint")
    at.touch(at.page.get_by_text("Setup"))
    at.touch(at.page.get_by_role("button", name="hard case"))
    at.touch(at.page.get_by_role("button", name="Book in", exact=True))
    paper = at.printed()
    order = WorkOrder.objects.get()
    assert (order.complaint, order.came_with, order.lines.get().text) == (
        "Buzzes on the low string.",
        "hard case",
        "Setup",
    )
    assert order.promised_on is not None
    assert paper.startswith(b"%PDF")
    assert at.count <= RETURNING


@BOTH
def test_somebody_new_with_a_new_instrument(open_as, cleo, setup, viewport):
    at = Counted(open_as(cleo, "/counter/", viewport=viewport))
    at.type("Jonas Reed")
    at.touch(at.page.get_by_role("link", name="Book in for a new customer"))
    at.page.wait_for_url(re.compile("new="))
    at.type("01632 960555", into="customer-phone")
    at.type("jonas@example.com", into="customer-email")
    at.choose("instrument-kind", "steel")
    at.type("Tinhollow", into="instrument-maker")
    at.type("Drover", into="instrument-model_name")
    at.type("TH-90", into="instrument-serial")
    at.type("Strings rattle.", into="job-complaint")
    at.tap("[data-outline=front]", 0.7, 0.8)
    at.type("dent, deep")  # the mark's note has the focus
    at.tap("[data-outline=back]", 0.5, 0.6)
    at.type("worn finish")
    at.touch(at.page.get_by_role("button", name="soft case"))
    at.touch(at.page.get_by_text("Setup"))
    at.touch(at.page.get_by_label("The customer agrees to these lines now"))
    at.touch(at.page.get_by_role("button", name="Book in", exact=True))
    at.printed()
    order = WorkOrder.objects.get()
    assert (order.customer.name, order.customer.email, order.customer.phone_digits) == (
        "Jonas Reed", "jonas@example.com", "01632960555",
    )  # fmt: skip
    instrument = order.instrument
    assert (instrument.kind, instrument.family, instrument.string_count, instrument.serial) == (
        "steel", "pinned", 6, "TH-90",
    )  # fmt: skip
    marks = [(mark.side, round(mark.x, 1), round(mark.y, 1), mark.note) for mark in order.marks.all()]
    assert marks == [("front", 0.7, 0.8, "dent, deep"), ("back", 0.5, 0.6, "worn finish")]
    assert order.state == "agreed"
    assert at.count <= NEW


def test_scanned_into_the_box(open_as, cleo):
    """A scanner types the tag's address and Enter."""
    order = booked(cleo)
    page = open_as(cleo, "/counter/")
    page.keyboard.type(f"http://127.0.0.1:8000/t/{order.number}/")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(f"/orders/{order.number}/"))
