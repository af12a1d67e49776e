"""The whole vocabulary of the pages on one page: accessible and inside its window, day and dim, on paper too."""

import pytest

from tests.accessible import violations

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True), pytest.mark.urls("tests.look_urls")]
WINDOWS = [(1280, 900), (1024, 768), (390, 844)]
PRESSED = "a.btn, button, .places a, .drawer a, summary, .form-control, .form-select"
TOO_SMALL = """(pressed) => [...document.querySelectorAll(pressed)]
    .filter(one => one.checkVisibility() && one.getBoundingClientRect().height < 44)
    .map(one => one.outerHTML.slice(0, 90))"""
UNFIT = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
MARKS = """() => [...document.querySelectorAll(".verdict, .state")].map(one => {
    const mark = getComputedStyle(one, "::before");
    return [mark.maskImage, mark.width, one.textContent.trim()];
})"""


@pytest.fixture
def look(open_as, ada, watch):
    watch.forgive("cannot be parsed")  # the sample form holds nonsense on purpose
    return lambda **how: open_as(ada, "/look/", **how)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("width", "height"), WINDOWS)
def test_accessible_and_fits(look, width, height, scheme):
    page = look(viewport={"width": width, "height": height}, color_scheme=scheme)
    assert violations(page) == []
    assert page.evaluate(UNFIT) <= 0
    assert page.evaluate(TOO_SMALL, PRESSED) == []


def test_every_verdict_and_state_has_a_mark_of_its_own_and_a_word(look):
    found = look().evaluate(MARKS)
    assert all(width != "0px" and image.startswith("url(") and word for image, width, word in found)
    drawn = {word: image for image, _, word in found}
    drawn.pop("waiting for parts")  # waits as 'waiting for the customer' does
    assert len(set(drawn.values())) == len(drawn)


def test_nothing_is_cut_off_on_paper(look):
    page = look()
    page.emulate_media(media="print")
    assert not page.locator(".masthead").is_visible()
    assert page.locator(".verdict").first.is_visible()
    assert page.evaluate(UNFIT) <= 0


def test_reduced_motion_stands_still(look):
    page = look(reduced_motion="reduce")
    assert page.evaluate('getComputedStyle(document.querySelector(".wait"), "::before").animationName') == "none"
