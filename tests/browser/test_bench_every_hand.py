"""Four more families on a tablet, from the first reading to the signature: by keys alone, and by touch alone."""

import pytest
from playwright.sync_api import expect

from shop.worksheets.families import family_for
from tests import factories, worksheet_builders
from tests.browser import bench_hands as hands

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
LYING, STANDING = {"width": 1024, "height": 768}, {"width": 800, "height": 1280}
JOBS = [
    ("flat_plate", "keys", LYING), ("pinned", "touch", STANDING), ("wraparound", "keys", STANDING),
    ("floating", "touch", LYING),
]  # fmt: skip


def sheet_of(ben, family):
    known = worksheet_builders.spec(family)
    for key, value in (("anchor_run_mm", 30.0), ("anchor_height_mm", 8.0)):
        known |= {key: {"value": value, "assumed": False}} if key in known else {}
    order = worksheet_builders.at_bench(factories.instrument(family=family), ben)
    return worksheet_builders.worksheet(order, ben, family=family, spec=known)


@pytest.mark.parametrize(("family", "hand", "viewport"), JOBS, ids=[f"{one}-{hand}" for one, hand, _ in JOBS])
def test_from_the_first_reading_to_the_signature(open_as, ben, family, hand, viewport):
    sheet = sheet_of(ben, family)
    page = open_as(ben, f"/bench/{sheet.pk}/plan/", viewport=viewport, has_touch=hand == "touch")
    expect(page.get_by_role("heading", name="Nothing to plan from yet")).to_be_visible()
    work = hands.by_keys if hand == "keys" else hands.by_touch
    for step in family_for(family).steps:
        page.goto(f"/bench/{sheet.pk}/{step.key}/")
        work(page, step.key)
    page.goto(f"/bench/{sheet.pk}/plan/")
    expect(page.get_by_role("heading", name="The moves, in this order")).to_be_visible()
    page.goto(f"/bench/{sheet.pk}/sign/")
    hands.sign(page, hands.key_press if hand == "keys" else hands.tap)
    sheet.refresh_from_db()
    assert sheet.signed_by == ben
    assert sheet.marks.filter(state="done").count() == len(family_for(family).steps)
    assert sheet.readings.filter(stage="left", key="octave").count() == 6
    assert not sheet.readings.exclude(standing="holds").exists()
