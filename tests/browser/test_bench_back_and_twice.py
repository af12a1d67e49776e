"""Back, reload and a second tab harm nothing; rounds are drawn; the stringing's switch shows; a re-check runs."""

import re

import pytest
from playwright.sync_api import expect

from shop.worksheets import profiles, rechecking, services
from shop.worksheets.models import BenchRules, Reading
from tests import factories
from tests import worksheet_builders as build

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def sheet(ben):
    return build.worksheet(build.at_bench(factories.instrument(), ben), ben)


def state(page, place):
    return page.locator(f"[data-place={place}] [data-state-word]")


def enter(page, place, value):
    page.locator(f"#f-{place}").fill(value)
    page.keyboard.press("Enter")
    expect(state(page, place)).to_have_text("saved")


def test_back_reload_and_a_second_tab_save_nothing_twice_and_lose_nothing(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/relief/")
    enter(page, "bench-relief", "0.24")
    page.goto(f"/bench/{sheet.pk}/nut/")
    page.go_back()
    expect(page.locator("#f-bench-relief")).to_have_value("0.24")
    page.reload()
    expect(page.locator("#f-bench-relief")).to_have_value("0.24")
    second = page.context.new_page()
    second.goto(f"/bench/{sheet.pk}/relief/")
    enter(second, "bench-relief", "0.2")
    expect(page.locator("#f-bench-relief")).to_have_value("0.2", timeout=30_000)
    assert list(Reading.objects.values_list("raw", flat=True)) == ["0.24", "0.2"]
    assert set(Reading.objects.values_list("standing", flat=True)) == {"holds"}


def test_each_round_of_an_octave_is_drawn_where_it_was_read(open_as, ben, sheet):
    build.store(sheet, ben, {"octave:6": 5.0})
    page = open_as(ben, f"/bench/{sheet.pk}/intonation/")
    drawn = page.locator("[data-piece=drawings] figure", has_text="The octave, round by round").locator("circle")
    expect(drawn).to_have_count(1)
    first = drawn.first.bounding_box()
    enter(page, "bench-octave-6", "2")
    expect(drawn).to_have_count(2)
    boxes = [drawn.nth(at).bounding_box() for at in range(2)]
    assert boxes[0]["x"] < boxes[1]["x"]
    assert boxes[0]["y"] < boxes[1]["y"]  # less sharp is lower
    assert first is not None


def test_the_stringing_switch_changes_what_the_tailpiece_is_held_against_at_once(open_as, ben, sheet):
    build.store(sheet, ben, build.GOOD)
    page = open_as(ben, f"/bench/{sheet.pk}/tail/")
    findings = page.locator("[data-piece=findings]")
    before = findings.inner_text()
    page.get_by_role("button", name="Wrap them over the top").click()
    expect(page.get_by_text("wrapped over")).to_be_visible()
    expect(page.get_by_role("button", name="Lead them through")).to_be_visible()
    wrapped = findings.inner_text()
    assert wrapped != before
    page.get_by_role("button", name="Lead them through").click()
    expect(page.get_by_role("button", name="Wrap them over the top")).to_be_visible()
    assert findings.inner_text() == before


def test_a_recheck_shows_how_far_it_is_is_stopped_and_reports(open_as, ada, ben, monkeypatch):
    monkeypatch.setitem(rechecking.go_on.__wrapped__.__kwdefaults__, "at_once", 1)
    profiles.ensure_usual_profiles()
    for _ in range(12):
        order = build.at_bench(factories.instrument(factories.customer()), ben)
        build.store(services.start_worksheet(order, by=ben), ben, {"relief": 0.28})
    rechecking.save_rule(BenchRules(rule="simple"))
    page = open_as(ada, "/office/recheck/")
    page.get_by_role("button", name="See what would turn").click()
    told = page.locator("#recheck")
    expect(told).to_contain_text(re.compile(r"[1-9]\d? of 12 worksheets judged anew, running"))
    expect(told.locator("progress")).to_be_visible()
    told.get_by_role("button", name="Stop").click()
    expect(told).to_contain_text("stopped")
    assert rechecking.Recheck.objects.get().done < 12
    told.get_by_role("button", name="Go on where it stopped").click()
    expect(told).to_contain_text("12 of 12 worksheets judged anew, finished", timeout=30_000)
    expect(told.get_by_text("Was too close to call, is in range")).to_have_count(12)
