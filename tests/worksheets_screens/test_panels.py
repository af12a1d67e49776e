"""What the order's and the instrument's pages show of the bench."""

from datetime import timedelta

import pytest

from tests import factories
from tests import worksheet_builders as build


@pytest.fixture
def instrument(db):
    return factories.instrument()


def signed(instrument, ben, *, years, relief):
    sheet = build.worksheet(build.at_bench(instrument, ben), ben)
    build.store(sheet, ben, {"left.relief": relief} | {f"left.height_12:{one}": 1.8 for one in (6, 1)})
    sheet.signed_at, sheet.signed_by = sheet.started_at - timedelta(days=365 * years), ben
    sheet.save(update_fields=["signed_at", "signed_by"])
    return sheet


def test_an_order_without_a_worksheet_offers_to_start_one(as_person, ben, instrument):
    order = build.at_bench(instrument, ben)
    page = as_person(ben).get(f"/orders/{order.number}/").content.decode()
    assert f"/bench/start/{order.pk}/" in page


def test_an_open_worksheet_shows_progress_and_what_is_amiss(as_person, ben, instrument):
    sheet = build.worksheet(build.at_bench(instrument, ben), ben)
    build.store(sheet, ben, {"relief": 0.9})
    build.mark_all(sheet, ben, but=("left",))
    page = as_person(ben).get(f"/orders/{sheet.order.number}/").content.decode()
    assert "11 of 12 steps done" in page
    assert "Relief is 0.90 mm" in page
    assert f'href="/bench/{sheet.pk}/"' in page
    assert "/bench/start/" not in page


def test_the_instrument_shows_the_last_values_and_the_years(as_person, ben, instrument):
    signed(instrument, ben, years=2, relief=0.31)
    signed(instrument, ben, years=0, relief=0.19)
    page = as_person(ben).get(f"/instruments/{instrument.pk}/").content.decode()
    assert "0.19 mm" in page
    assert "Relief as left: 0.31 mm in" in page
    assert page.count('class="year"') == 3


def test_an_instrument_that_was_never_here_says_so(as_person, ben, instrument):
    page = as_person(ben).get(f"/instruments/{instrument.pk}/").content.decode()
    assert "No worksheet of this instrument has been signed yet." in page
