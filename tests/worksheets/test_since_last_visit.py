"""What has changed since it was left: drift of each reading, the room then and now."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from shop.orders.states import State
from shop.worksheets import queries, services, since
from shop.worksheets.sheet import Sheet
from shop.worksheets.shown.since import ago
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db
BERLIN = ZoneInfo("Europe/Berlin")


def visit(guitar, ben, **changes):
    """A visit that was signed and collected."""
    order = build.at_bench(guitar, ben)
    done = build.finished(order, ben, **changes)
    services.sign_off(done, by=ben)
    type(order).objects.filter(pk=order.pk).update(state=State.COLLECTED)
    return done


@pytest.fixture
def back_again(ben):
    guitar = factories.instrument()
    visit(guitar, ben, **{"received.humidity": 55.0})
    return services.start_worksheet(build.at_bench(guitar, ben), by=ben)


def since_of(sheet):
    return since.since_last(Sheet.load(sheet), queries.last_left(sheet.order.instrument, before=sheet))


def test_drift_is_now_less_then(back_again, ben):
    build.store(back_again, ben, {"received.relief": 0.38, "received.height_12:6": 2.25})
    drifts = {(one.row.key, one.row.string): one for one in since_of(back_again).drifts}
    assert drifts["relief", None].change == pytest.approx(0.18)
    assert drifts["height_12", 6].change == pytest.approx(0.40)
    assert not drifts["relief", None].is_steady


def test_what_the_gauge_cannot_tell_apart_is_steady(back_again, ben):
    """Two readings of resolution a each carry u = a/√12; their difference √2·u, and k = 2 of it: GUM 4.3.7, 5.1.2.

    Feeler leaves, a = 0.05 mm: 2·√2·0.05/√12 = 0.041 mm.
    """
    build.store(back_again, ben, {"received.relief": 0.24})
    assert since_of(back_again).drifts[0].is_steady
    build.store(back_again, ben, {"received.relief": 0.242})
    assert not since_of(back_again).drifts[0].is_steady


def test_the_room_is_told_then_and_now(back_again, ben):
    assert since_of(back_again).air == (("humidity", "55.0", None),)
    build.store(back_again, ben, {"received.humidity": 38.0})
    assert since_of(back_again).air == (("humidity", "55.0", "38.0"),)


def test_a_first_visit_has_no_since(ben):
    assert since_of(build.worksheet(build.at_bench(factories.instrument(), ben), ben)) is None


def test_the_first_step_shows_it_and_the_others_do_not(back_again, ben, as_person):
    build.store(back_again, ben, {"received.relief": 0.38, "received.humidity": 38.0})
    page = as_person(ben).get(f"/bench/{back_again.pk}/inspect/").content.decode()
    assert "Since it was left" in page
    assert "+0.18 mm" in page
    assert "Left at 0.20 mm, now 0.38 mm, target between 0.10 and 0.30 mm." in page
    assert "then 55.0 %" in page
    assert "Since it was left" not in as_person(ben).get(f"/bench/{back_again.pk}/relief/").content.decode()


@pytest.mark.parametrize(
    ("then", "words"),
    [
        ("2028-02-29 08:00", "earlier today"), ("2028-02-28 23:50", "1 day ago"), ("2028-02-05 12:00", "3 weeks ago"),
        ("2027-06-30 12:00", "8 months ago"), ("2027-02-28 12:00", "12 months ago"),
        ("2026-01-01 12:00", "2 years ago"),
    ],
)  # fmt: skip
def test_how_long_ago_is_said_in_round_words(then, words, monkeypatch):
    moment = datetime.fromisoformat(then).replace(tzinfo=BERLIN)
    monkeypatch.setattr(timezone, "now", lambda: datetime(2028, 2, 29, 9, tzinfo=BERLIN))
    with timezone.override(BERLIN):
        assert ago(moment) == words


def test_the_night_in_which_clocks_are_changed_is_a_whole_day(monkeypatch):
    monkeypatch.setattr(timezone, "now", lambda: datetime(2027, 3, 28, 18, tzinfo=BERLIN))
    with timezone.override(BERLIN):
        assert ago(datetime(2027, 3, 27, 18, tzinfo=BERLIN)) == "1 day ago"
