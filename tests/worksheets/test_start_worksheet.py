"""A worksheet takes its own copy of everything it judges by, and holds its order."""

from decimal import Decimal

import pytest

from shop.orders.models import Event, Line
from shop.orders.states import State
from shop.worksheets import profiles, services
from shop.worksheets.evaluation import evaluate
from shop.worksheets.models import TargetProfile, TargetRange, Worksheet
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def guitar(db):
    return factories.instrument(post_thread="M4", stud_thread="M8", saddle_thread="M3")


def test_it_holds_the_order_and_writes_history(guitar, ben):
    order = build.at_bench(guitar, ben)
    sheet = services.start_worksheet(order, by=ben)
    assert order.holds.get(lifted_at=None).key == f"worksheet:{sheet.pk}"
    assert Event.objects.get(what="worksheet_started").by == ben


def test_it_takes_its_own_copy(guitar, ben):
    sheet = services.start_worksheet(build.at_bench(guitar, ben), by=ben)
    TargetRange.objects.update(high=99.0)
    type(guitar).objects.update(post_thread="")
    sheet.refresh_from_db()
    assert sheet.targets["relief"] == [0.10, 0.30]
    assert sheet.threads == {"post": "M4", "stud": "M8", "saddle": "M3"}
    assert [one["number"] for one in sheet.strings] == [6, 5, 4, 3, 2, 1]
    assert sheet.spec["scale_bass_mm"] == {"value": 628.0, "assumed": True}


def test_a_chosen_profile_and_stringing(guitar, ben):
    profiles.ensure_usual_profiles()
    chosen = TargetProfile.objects.get(kind="bass")
    sheet = services.start_worksheet(build.at_bench(guitar, ben), by=ben, profile=chosen, stringing="wrapped")
    assert (sheet.profile_name, sheet.stringing) == ("Bass, usual", "wrapped")


def test_started_twice_it_is_one(guitar, ben, ada):
    order = build.at_bench(guitar, ben)
    assert services.start_worksheet(order, by=ben) == services.start_worksheet(order, by=ada)
    assert Worksheet.objects.count() == 1


def test_an_agreed_order_goes_on_the_bench_with_it(guitar, ben):
    order = build.at_bench(guitar, ben, state=State.AGREED)
    Line.objects.create(order=order, text="Setup", price=Decimal(60), tax_rate=Decimal(20))
    services.start_worksheet(order, by=ben)
    order.refresh_from_db()
    assert order.state == State.ON_BENCH


def test_readings_may_be_taken_before_the_work_is_agreed(guitar, ben):
    order = build.at_bench(guitar, ben, state=State.ASSESSED)
    services.start_worksheet(order, by=ben)
    order.refresh_from_db()
    assert order.state == State.ASSESSED


@pytest.mark.parametrize("state", [State.CHECKED, State.READY, State.COLLECTED, State.UNCOLLECTED])
def test_not_on_an_order_that_is_done(guitar, ben, state):
    with pytest.raises(ValueError, match="no worksheet can be started"):
        services.start_worksheet(build.at_bench(guitar, ben, state=state), by=ben)


def test_assumed_values_are_named_in_the_findings(guitar, ben):
    sheet = services.start_worksheet(build.at_bench(guitar, ben), by=ben)
    build.store(sheet, ben, {"relief": 0.2} | build.six("height_12", [2.4, 2, 1.9, 1.8, 1.7, 1.45]))
    assert "bridge posts apart" in evaluate(sheet).finding("height_12:6").assumed
