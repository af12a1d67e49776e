"""Readings survive a lost connection, a reload, a second tablet and the end of the session."""

import pytest
from playwright.sync_api import expect

from shop.staff.models import SignedIn
from shop.worksheets.models import Reading, Standing
from tests import factories, worksheet_builders

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
RELIEF = "[data-place=bench-relief]"


@pytest.fixture
def sheet(ben):
    order = worksheet_builders.at_bench(factories.instrument(), ben)
    return worksheet_builders.worksheet(order, ben)


def state(page, place):
    return page.locator(f"[data-place={place}] [data-state-word]")


def kept(page):
    return page.evaluate("Object.keys(localStorage).filter((one) => /^bench:\\d/.test(one)).length")


def test_a_cut_connection_keeps_every_entry_and_sends_them_when_it_is_back(open_as, ben, sheet, watch):
    watch.forgive("ERR_INTERNET_DISCONNECTED")
    page = open_as(ben, f"/bench/{sheet.pk}/nut/")
    page.context.set_offline(True)
    page.locator("#f-bench-nut_gap-6").focus()
    for value in ("0.2", "0.15", "0.1"):
        page.keyboard.type(value)
        page.keyboard.press("Enter")
    expect(state(page, "bench-nut_gap-5")).to_have_text("kept here, not yet saved")
    expect(page.locator("[data-keeper]")).to_contain_text("3 readings are kept on this device")
    assert kept(page) == 3
    assert not Reading.objects.exists()
    page.context.set_offline(False)
    for place in ("bench-nut_gap-6", "bench-nut_gap-5", "bench-nut_gap-4"):
        expect(state(page, place)).to_have_text("saved")
    expect(page.locator("[data-keeper-box]")).to_be_hidden()
    assert kept(page) == 0
    assert dict(Reading.objects.values_list("string", "value")) == {6: 0.2, 5: 0.15, 4: 0.1}


def test_unsent_entries_come_back_after_a_reload_and_are_saved_once(open_as, ben, sheet, watch):
    watch.forgive("ERR_FAILED", "ERR_ABORTED")
    page = open_as(ben, f"/bench/{sheet.pk}/relief/")
    page.route("**/save/", lambda route: route.abort())
    page.locator("#f-bench-relief").fill("0.24")
    page.keyboard.press("Enter")
    expect(state(page, "bench-relief")).to_have_text("kept here, not yet saved")
    page.reload()
    expect(page.locator("#f-bench-relief")).to_have_value("0.24")
    page.unroute("**/save/")
    page.reload()
    expect(state(page, "bench-relief")).to_have_text("saved")
    assert [one.value for one in Reading.objects.all()] == [0.24]


def test_what_was_being_typed_when_the_lid_closed_is_there_again(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/relief/")
    page.locator("#f-bench-relief").press_sequentially("0.1")
    page.reload()
    expect(page.locator("#f-bench-relief")).to_have_value("0.1")
    expect(state(page, "bench-relief")).to_have_text("saved")
    assert Reading.objects.get().raw == "0.1"


def test_an_answer_that_never_arrived_does_not_save_twice(open_as, ben, sheet, watch):
    """The server stored it, the answer was lost; then the hand typed something else."""
    watch.forgive("ERR_FAILED", "ERR_ABORTED")
    page = open_as(ben, f"/bench/{sheet.pk}/relief/")
    lost = []

    def swallow(route):
        route.fetch()
        lost.append(route.request.url)
        route.abort()

    page.route("**/save/", swallow, times=1)
    field = page.locator("#f-bench-relief")
    field.fill("0.24")
    field.blur()
    expect(state(page, "bench-relief")).to_have_text("kept here, not yet saved")
    assert lost
    field.fill("0.26")
    field.blur()
    expect(page.locator(RELIEF)).to_have_attribute("data-saved", "0.26")
    expect(state(page, "bench-relief")).to_have_text("saved")
    assert list(Reading.objects.values_list("raw", "standing")) == [("0.24", "holds"), ("0.26", "holds")]


def test_a_value_that_cannot_be_read_stays_beside_what_would_be_accepted(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/relief/")
    page.locator("#f-bench-relief").fill("a hair")
    page.keyboard.press("Enter")
    expect(state(page, "bench-relief")).to_have_text("cannot be read")
    expect(page.locator(RELIEF)).to_contain_text("Write")
    page.reload()
    expect(page.locator("#f-bench-relief")).to_have_value("a hair")
    assert Reading.objects.get().standing == Standing.UNREADABLE


def test_two_tablets_on_different_fields_both_stand(open_as, ben, ada, sheet):
    first = open_as(ben, f"/bench/{sheet.pk}/nut/")
    second = open_as(ada, f"/bench/{sheet.pk}/nut/")
    first.locator("#f-bench-nut_gap-6").fill("0.2")
    first.keyboard.press("Enter")
    expect(state(first, "bench-nut_gap-6")).to_have_text("saved")
    second.locator("#f-bench-nut_gap-5").fill("0.1")
    second.keyboard.press("Enter")
    expect(state(second, "bench-nut_gap-5")).to_have_text("saved")
    # What one's own reading means is asked for at once, and brings the other's along.
    expect(second.locator("#f-bench-nut_gap-6")).to_have_value("0.2")
    first.evaluate("window.bench.live.look()")
    expect(first.locator("#f-bench-nut_gap-5")).to_have_value("0.1")
    assert Reading.objects.filter(standing=Standing.HOLDS).count() == 2


def test_two_tablets_on_the_same_field_ask_which_holds(open_as, ben, ada, sheet):
    first = open_as(ben, f"/bench/{sheet.pk}/relief/")
    second = open_as(ada, f"/bench/{sheet.pk}/relief/")
    first.locator("#f-bench-relief").fill("0.2")
    first.keyboard.press("Enter")
    expect(state(first, "bench-relief")).to_have_text("saved")
    second.locator("#f-bench-relief").fill("0.3")
    second.keyboard.press("Enter")
    expect(state(second, "bench-relief")).to_have_text("two values")
    expect(second.locator(RELIEF)).to_contain_text("Which one holds?")
    second.get_by_role("button", name="0.3").click()
    expect(state(second, "bench-relief")).to_have_text("saved")
    expect(second.locator("#f-bench-relief")).to_have_value("0.3")
    assert Reading.objects.get(raw="0.3").standing == Standing.HOLDS
    assert Reading.objects.get(raw="0.2").standing == Standing.SET_ASIDE


def test_a_session_that_ended_asks_to_sign_in_and_loses_nothing(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/relief/")
    SignedIn.objects.all().delete()
    page.locator("#f-bench-relief").fill("0.22")
    page.keyboard.press("Enter")
    expect(state(page, "bench-relief")).to_have_text("kept here, not yet saved")
    expect(page.locator("[data-keeper]")).to_contain_text("signed out")
    page.get_by_role("link", name="Sign in again").click()
    page.fill("input[name=username]", ben.username)
    page.fill("input[name=password]", factories.PASSWORD)
    page.press("input[name=password]", "Enter")
    page.wait_for_url(f"**/bench/{sheet.pk}/relief/")
    expect(page.locator("#f-bench-relief")).to_have_value("0.22")
    expect(state(page, "bench-relief")).to_have_text("saved")
    assert Reading.objects.get().value == 0.22


def test_a_decision_waits_for_the_readings_that_it_rests_on(open_as, ben, sheet, watch):
    watch.forgive("ERR_FAILED", "ERR_ABORTED")
    page = open_as(ben, f"/bench/{sheet.pk}/relief/")
    page.route("**/save/", lambda route: route.abort())
    page.locator("#f-bench-relief").fill("0.2")
    page.get_by_role("button", name="Step is done").click()
    expect(page.locator(".step-decide [data-form-says]").first).to_contain_text("Not now")
    assert not sheet.marks.exists()
    page.unroute("**/save/")
    page.get_by_role("button", name="Step is done").click()
    page.wait_for_url(lambda url: "/relief/" not in url)
    assert sheet.marks.get().stale_because == ""
    assert Reading.objects.get().value == 0.2


def test_an_old_answer_that_comes_late_does_not_empty_a_newer_field(open_as, ben, sheet):
    page = open_as(ben, f"/bench/{sheet.pk}/relief/")
    held = []
    page.route("**/live/**", lambda route: held.append((route, route.fetch())), times=1)
    page.evaluate("void window.bench.live.look()")
    for _ in range(50):
        if held:
            break
        page.wait_for_timeout(50)
    page.locator("#f-bench-relief").fill("0.2")
    page.keyboard.press("Enter")
    expect(state(page, "bench-relief")).to_have_text("saved")
    route, answer = held[0]
    route.fulfill(response=answer)
    expect(page.locator(RELIEF)).to_contain_text("in range")
    expect(page.locator("#f-bench-relief")).to_have_value("0.2")
