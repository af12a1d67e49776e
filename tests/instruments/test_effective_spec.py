"""What is known of an instrument, and what stands in for what is not."""

import pytest

from shop.instruments import services
from shop.instruments.specification import fields_for
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def one():
    return factories.instrument()


def test_nothing_measured_is_all_assumed(one):
    spec = services.effective_spec(one)
    assert set(spec) == {field.key for field in fields_for(one.family, one.string_count)}
    assert all(value["assumed"] for value in spec.values())
    assert spec["scale_bass_mm"] == {"value": 628.0, "assumed": True}


@pytest.mark.parametrize(("kind", "scale"), [("bass", 864.0), ("nylon", 650.0), ("archtop", 628.0)])
def test_what_is_typical_follows_the_kind(kind, scale):
    other = factories.instrument(kind=kind)
    assert services.effective_spec(other)["scale_bass_mm"]["value"] == scale


def test_fields_follow_the_bridge():
    fixed = factories.instrument(family="two_post_fixed")
    assert "stud_span_mm" not in services.effective_spec(fixed)
    assert "tail_exit_height_mm" in services.effective_spec(fixed)


def test_the_newest_measurement_holds(one, ben):
    services.record_spec_value(one, "scale_bass_mm", 640.0, by=ben)
    services.record_spec_value(one, "scale_bass_mm", 641.5, by=ben)
    assert services.effective_spec(one)["scale_bass_mm"] == {"value": 641.5, "assumed": False}
    assert one.spec_values.count() == 2


def test_a_value_given_up_is_assumed_again(one, ben):
    services.record_spec_value(one, "scale_bass_mm", 640.0, by=ben)
    services.record_spec_value(one, "scale_bass_mm", None, by=ben)
    assert services.effective_spec(one)["scale_bass_mm"]["assumed"] is True


def test_the_same_value_again_writes_nothing(one, ben):
    assert services.record_spec_value(one, "scale_bass_mm", 640.0, by=ben) is not None
    assert services.record_spec_value(one, "scale_bass_mm", 640.0, by=ben) is None
    assert services.record_spec_value(one, "fret_count", None, by=ben) is None
    assert one.spec_values.count() == 1


def test_it_costs_one_query(one, ben, django_assert_num_queries):
    for value in range(600, 610):
        services.record_spec_value(one, "scale_bass_mm", float(value), by=ben)
    with django_assert_num_queries(1):
        services.effective_spec(one)
