"""A step worked by the keyboard alone."""

import pytest
from playwright.sync_api import expect

from shop.worksheets.models import Reading, StepMark
from tests import factories, worksheet_builders

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def sheet(ben):
    order = worksheet_builders.at_bench(factories.instrument(), ben)
    return worksheet_builders.worksheet(order, ben)


def test_enter_moves_on_and_the_verdicts_come(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/nut/")
    page.locator("#f-bench-nut_gap-6").focus()
    for value in ("0.20", "0.15", "0.4", "0.15", "0.12", "0.10"):
        page.keyboard.type(value)
        page.keyboard.press("Enter")
    expect(page.locator("[data-place=bench-nut_gap-1] [data-state-word]")).to_have_text("saved")
    expect(page.locator("[data-place=bench-nut_gap-6]")).to_contain_text("in range")
    expect(page.locator("[data-place=bench-nut_gap-4]")).to_contain_text("out of range")
    expect(page.locator("[data-piece=findings]")).to_contain_text("string 4 is 0.40 mm")
    # After the last field Enter marks the step done, and the next open one comes.
    expect(page.locator("[data-after-fields]")).to_be_focused()
    page.keyboard.press("Enter")
    page.wait_for_url(lambda url: "/nut/" not in url)
    assert StepMark.objects.get(step="nut").state == "done"
    assert {one.string: one.value for one in Reading.objects.all()} == {
        6: 0.20, 5: 0.15, 4: 0.4, 3: 0.15, 2: 0.12, 1: 0.10,
    }  # fmt: skip


def test_shift_enter_goes_back_and_a_choice_is_made_with_arrows(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/saddles/")
    page.locator("[data-place=bench-saddle_facing-6] input").first.focus()
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    expect(page.locator("[data-place=bench-saddle_facing-5] input").first).to_be_focused()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Shift+Enter")
    expect(page.locator("[data-place=bench-saddle_facing-6] input").first).to_be_focused()
    expect(page.locator("[data-place=bench-saddle_facing-5] [data-state-word]")).to_have_text("saved")
    assert dict(Reading.objects.values_list("string", "raw")) == {6: "flat_rear", 5: "flat_front"}


def test_focus_stays_while_the_page_is_swapped_under_it(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/nut/")
    page.locator("#f-bench-nut_gap-6").fill("0.2")
    page.keyboard.press("Enter")
    page.keyboard.type("0.1")
    expect(page.locator("[data-place=bench-nut_gap-6] [data-state-word]")).to_have_text("saved")
    expect(page.locator("#f-bench-nut_gap-5")).to_be_focused()
    expect(page.locator("#f-bench-nut_gap-5")).to_have_value("0.1")
    page.keyboard.type("5")
    expect(page.locator("#f-bench-nut_gap-5")).to_have_value("0.15")


def test_the_number_keys_write_fractions_and_are_remembered(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/height/")
    page.get_by_role("button", name="Number keys").click()
    page.locator("#f-bench-height_12-6").click()
    for name in ("5", "sixty-fourths"):
        page.get_by_role("button", name=name, exact=True).click()
    expect(page.locator("#f-bench-height_12-6")).to_have_value("5/64")
    page.get_by_role("button", name="Next", exact=True).click()
    expect(page.locator("#f-bench-height_12-5")).to_be_focused()
    expect(page.locator("[data-place=bench-height_12-6] [data-state-word]")).to_have_text("saved")
    assert Reading.objects.get().value == pytest.approx(5 / 64 * 25.4)
    page.reload()
    expect(page.get_by_role("group", name="Number keys")).to_be_visible()


def test_the_gauge_is_remembered_for_its_kind_of_reading(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/relief/")
    page.get_by_label("read with").select_option("dial")
    page.locator("#f-bench-relief").fill("0.3")
    page.keyboard.press("Enter")
    expect(page.locator("[data-place=bench-relief] [data-state-word]")).to_have_text("saved")
    page.goto(f"/bench/{sheet.pk}/nut/")
    expect(page.get_by_label("read with")).to_have_value("feeler")
    page.goto(f"/bench/{sheet.pk}/relief/")
    expect(page.get_by_label("read with")).to_have_value("dial")
    page.locator("#f-bench-relief").fill("0.2")
    page.keyboard.press("Enter")
    expect(page.locator("[data-place=bench-relief] [data-state-word]")).to_have_text("saved")
    assert set(Reading.objects.values_list("raw", "gauge")) == {("0.3", "dial"), ("0.2", "dial")}


def test_undo_brings_back_what_stood_before(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/relief/")
    field = page.locator("#f-bench-relief")
    for value in ("0.2", "0.9"):
        field.fill(value)
        field.blur()
        expect(page.locator("[data-place=bench-relief]")).to_have_attribute("data-saved", value)
    field.focus()
    page.get_by_role("button", name="Undo").click()
    expect(field).to_have_value("0.2")
    page.get_by_role("button", name="History").click()
    expect(page.locator(".history-box")).to_contain_text("0.9")
    expect(page.locator(".history-box")).to_contain_text("undone")
