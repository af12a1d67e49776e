"""How a player likes it goes into a new worksheet's own targets, and nowhere else."""

import pytest

from shop.worksheets import profiles, services, tastes
from shop.worksheets.evaluation import evaluate
from shop.worksheets.models import Taste
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def guitar():
    profiles.ensure_usual_profiles()
    return factories.instrument(factories.customer(taste="Light touch."))


def start(guitar, ben):
    return services.start_worksheet(build.at_bench(guitar, ben), by=ben)


def test_the_instruments_ranges_stand_before_the_customers_and_those_before_the_profile(guitar, ben):
    low, lower = [1.3, 1.6], [1.1, 1.4]
    tastes.save({"height_12_bass": low, "relief": [0.05, 0.15]}, by=ben, kind="electric", customer=guitar.customer)
    tastes.save({"height_12_bass": lower}, by=ben, kind="electric", instrument=guitar)
    sheet = start(guitar, ben)
    assert sheet.targets["height_12_bass"] == lower
    assert sheet.targets["relief"] == [0.05, 0.15]
    assert sheet.targets["octave"] == [-1.5, 1.5]
    assert sheet.taste == {"words": "Light touch.", "keys": {"height_12_bass": "instrument", "relief": "customer"}}


def test_it_is_judged_by_it(guitar, ben):
    tastes.save({"relief": [0.4, 0.6]}, by=ben, kind="electric", instrument=guitar)
    sheet = start(guitar, ben)
    build.store(sheet, ben, {"relief": 0.5})
    assert evaluate(sheet).finding("relief").verdict == "in_range"


def test_what_a_customer_likes_on_a_bass_says_nothing_of_an_electric(guitar, ben):
    tastes.save({"relief": [0.4, 0.6]}, by=ben, kind="bass", customer=guitar.customer)
    assert start(guitar, ben).targets["relief"] == [0.1, 0.3]


def test_a_sheet_that_has_begun_keeps_its_own(guitar, ben):
    sheet = start(guitar, ben)
    tastes.save({"relief": [0.4, 0.6]}, by=ben, kind="electric", instrument=guitar)
    sheet.refresh_from_db()
    assert sheet.targets["relief"] == [0.1, 0.3]


def test_no_range_left_clears_it(guitar, ben):
    tastes.save({"relief": [0.4, 0.6]}, by=ben, kind="electric", instrument=guitar)
    tastes.save({}, by=ben, kind="electric", instrument=guitar)
    assert not Taste.objects.exists()
