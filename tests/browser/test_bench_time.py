"""Time counts by itself on a step: with the page in view and a hand at work, through pauses and cut connections."""

import re

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from shop.worksheets import time_spent
from shop.worksheets.models import Worksheet, WorkSpan
from tests import factories, worksheet_builders

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def sheet(ben):
    made = worksheet_builders.worksheet(worksheet_builders.at_bench(factories.instrument(), ben), ben)
    Worksheet.objects.filter(pk=made.pk).update(started_at=timezone.now() - timezone.timedelta(days=1))
    return made


def flush(page):
    page.evaluate("window.bench.time.flush()")
    page.wait_for_load_state("networkidle")


def minutes(sheet):
    return round(sum(time_spent.of_sheet(sheet).values()) / 60, 1)


def test_pauses_of_some_minutes_count_and_long_ones_do_not(open_as, ben, sheet, watch):
    watch.forgive("ERR_INTERNET_DISCONNECTED")
    page = open_as(ben, "/bench/")
    page.clock.install()
    page.goto(f"/bench/{sheet.pk}/nut/")
    page.context.set_offline(True)  # the server's clock does not run ahead with the page's
    page.clock.run_for(4 * 60_000)
    page.keyboard.press("Shift")  # back after four minutes with the file in hand
    page.clock.run_for(60 * 60_000)  # away for lunch
    page.keyboard.press("Shift")
    page.clock.run_for(2 * 60_000)
    page.keyboard.press("Shift")
    page.evaluate("window.bench.time.flush()")
    page.context.set_offline(False)
    flush(page)
    expect(page.locator("[data-time-step]")).to_have_text(re.compile(r"[67] min on this step"))
    assert 6 <= minutes(sheet) < 7.5  # the page's clock runs on while the test itself takes its time
    assert WorkSpan.objects.count() == 2


def test_what_a_cut_connection_kept_is_sent_from_the_next_page(open_as, ben, sheet, watch):
    watch.forgive("ERR_INTERNET_DISCONNECTED")
    page = open_as(ben, "/bench/")
    page.clock.install()
    page.goto(f"/bench/{sheet.pk}/nut/")
    page.context.set_offline(True)
    page.clock.run_for(3 * 60_000)
    page.keyboard.press("Shift")
    page.evaluate("window.bench.time.flush()")
    other = page.context.new_page()
    page.close()
    assert not WorkSpan.objects.exists()
    other.context.set_offline(False)
    other.goto(f"/bench/{sheet.pk}/tail/")
    expect(other.locator("[data-time-sheet]")).to_contain_text("on the whole sheet")
    assert WorkSpan.objects.get(step="nut").by == ben
    assert WorkSpan.objects.get(step="nut").ended_at > WorkSpan.objects.get(step="nut").began_at
