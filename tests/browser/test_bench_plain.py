"""Without scripts a step still saves, says what cannot be read, and asks which of two values holds."""

import pytest
from playwright.sync_api import expect

from shop.worksheets.models import Reading, Standing
from tests import factories, worksheet_builders

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_a_step_is_read_and_saved(open_as, ben):
    order = worksheet_builders.at_bench(factories.instrument(), ben)
    sheet = worksheet_builders.worksheet(order, ben)
    page = open_as(ben, f"/bench/{sheet.pk}/nut/", java_script_enabled=False)
    page.locator("#f-bench-nut_gap-6").fill("0.15")
    page.locator("#f-bench-nut_gap-5").fill("a hair")
    page.get_by_role("button", name="Save the readings").click()
    expect(page.locator("[data-place=bench-nut_gap-6]")).to_contain_text("in range")
    expect(page.locator("#f-bench-nut_gap-5")).to_have_value("a hair")
    assert dict(Reading.objects.values_list("string", "standing")) == {6: Standing.HOLDS, 5: Standing.UNREADABLE}
