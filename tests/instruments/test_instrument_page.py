"""An instrument's page: its measures, strings and every visit."""

import pytest

from shop.instruments import services
from tests import counter_builders, factories
from tests.counting import queries_of

pytestmark = pytest.mark.django_db


def test_it_shows_measured_and_assumed_strings_and_visits(as_person, ben, cleo):
    order = counter_builders.booked(cleo)
    services.record_spec_value(order.instrument, "scale_bass_mm", 641.5, by=ben)
    text = as_person(ben).get(f"/instruments/{order.instrument_id}/").content.decode()
    assert "641.5\u00a0mm" in text
    assert "assumed" in text
    assert "E4" in text
    assert order.number in text


def test_a_visit_under_another_owner_says_whose_it_was(as_person, ben, cleo):
    order = counter_builders.booked(cleo)
    order.instrument.customer = factories.customer(name="Jonas Reed")
    order.instrument.save(update_fields=["customer"])
    assert "then of Mara Fell" in as_person(ben).get(f"/instruments/{order.instrument_id}/").content.decode()


def test_more_visits_ask_no_more(as_person, ben, cleo):
    order = counter_builders.booked(cleo)
    client = as_person(ben)
    few = queries_of(client, f"/instruments/{order.instrument_id}/")
    for _ in range(4):
        counter_builders.booked(cleo, instrument=order.instrument)
    assert queries_of(client, f"/instruments/{order.instrument_id}/") == few


@pytest.mark.parametrize("remembered", ["larkrise", "two-post lark", "LR 0412", "lr0412", "0412"])
def test_it_is_found_by_what_is_remembered(remembered):
    one = factories.instrument()
    factories.instrument(one.customer, maker="Tinhollow", model_name="Drover", serial="TH-9")
    assert list(type(one).objects.matching(remembered)) == [one]


def test_the_same_serial_in_another_writing():
    one = factories.instrument(serial="LR-0412")
    assert list(type(one).objects.with_serial("lr 0412")) == [one]
    assert not type(one).objects.with_serial("04").exists()
