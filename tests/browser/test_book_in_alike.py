"""Who and what is on file already is said beside the field in which it is typed again, at a desk and on a telephone."""

import re

import pytest

from tests import factories
from tests.accessible import violations

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
SIZES = [None, {"width": 390, "height": 844}]
BOTH = pytest.mark.parametrize("viewport", SIZES, ids=["tablet", "telephone"])
NEAR = 420  # of the field it is about, with one row of fields between, in pixels


def below(page, field, notice):
    """How far the end of what is said stands from the field's own top."""
    boxes = [page.locator(one).bounding_box() for one in (field, notice)]
    return boxes[1]["y"] + boxes[1]["height"] - boxes[0]["y"]


@BOTH
def test_a_telephone_number_in_another_writing(open_as, cleo, viewport):
    mara = factories.instrument().customer
    page = open_as(cleo, "/counter/?new=", viewport=viewport)
    page.locator("[name=customer-phone]").type("+44 (0)1632 960123")
    way = page.get_by_role("link", name="Book in for Mara Fell")
    way.wait_for()
    assert page.get_by_text("the same telephone number").count() == 1
    assert below(page, "[name=customer-phone]", ".notice.is-amiss") < NEAR
    assert violations(page) == []
    page.locator("[name=customer-phone]").fill("")
    way.wait_for(state="detached")
    page.locator("[name=customer-email]").type("MARA@example.com")
    way.click()
    page.wait_for_url(re.compile(f"customer={mara.pk}"))


@BOTH
def test_a_serial_number_of_an_instrument_that_changed_hands(open_as, cleo, viewport):
    one = factories.instrument()
    jonas = factories.customer(name="Jonas Reed", phone="", email="")
    page = open_as(cleo, f"/counter/?customer={jonas.pk}", viewport=viewport)
    page.locator("[name=instrument-serial]").type(one.serial.lower().replace("-", " "))
    page.get_by_role("link", name="it is Jonas Reed’s now").wait_for()
    assert below(page, "[name=instrument-serial]", ".notice.is-amiss") < NEAR
    page.get_by_role("link", name="it is Jonas Reed’s now").click()
    page.wait_for_url(re.compile(f"instrument={one.pk}&customer={jonas.pk}"))
    assert page.get_by_text("makes it Jonas Reed’s from now on").is_visible()
