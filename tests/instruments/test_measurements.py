"""The measured specification: any unit goes in, only what was changed is written."""

import pytest

from shop.instruments import services
from shop.instruments.measuring import SpecForm
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def one():
    return factories.instrument()


@pytest.fixture
def address(one):
    return f"/instruments/{one.pk}/measurements/"


def values(one):
    return {row.key: row.value for row in reversed(one.spec_values.all())}


@pytest.mark.parametrize(
    ("typed", "mm"), [("628", 628.0), ("628 mm", 628.0), ("24 3/4 in", 628.65), ('24.75"', 628.65), ("62,8 cm", 628.0)]
)
def test_a_length_in_any_unit(as_person, ben, one, address, typed, mm):
    answer = as_person(ben).post(address, {"scale_bass_mm": typed})
    assert answer["Location"] == f"/instruments/{one.pk}/"
    row = one.spec_values.get()
    assert row.value == pytest.approx(mm, abs=1e-9)
    assert (row.raw, row.by) == (typed, ben)


def test_a_bare_number_is_in_the_shops_unit(as_person, ben, one, address):
    factories.workshop(length_unit="in")
    as_person(ben).post(address, {"scale_bass_mm": "24.75"})
    assert one.spec_values.get().value == pytest.approx(628.65, abs=1e-9)


def test_angles_and_counts(as_person, ben, one, address):
    as_person(ben).post(address, {"neck_tilt_deg": "3.5°", "fret_count": "24"})
    assert values(one) == {"neck_tilt_deg": pytest.approx(3.5), "fret_count": 24.0}


@pytest.mark.parametrize(
    ("field", "typed"),
    [("scale_bass_mm", "long"), ("scale_bass_mm", "12"), ("scale_bass_mm", "3 N"), ("fret_count", "22.5"),
     ("fret_count", "99"), ("neck_tilt_deg", "80"), ("scale_bass_mm", "9" * 39), ("stud_span_mm", "nan")],
)  # fmt: skip
def test_what_cannot_be_is_said_and_kept_and_nothing_is_saved(as_person, ben, one, address, field, typed):
    answer = as_person(ben).post(address, {"post_span_mm": "74", field: typed})
    assert answer.status_code == 422
    assert all(error.endswith(".") for error in answer.context["form"].errors[field])
    assert f'value="{typed}"' in answer.content.decode()
    assert not one.spec_values.exists()


def test_what_was_not_changed_is_not_written(one, ben):
    """628.65 mm shown in 64ths loses digits; saving the page unchanged must not write the rounded value."""
    services.record_spec_value(one, "scale_bass_mm", 628.7, by=ben)
    shown = SpecForm(one, unit="64ths")["scale_bass_mm"].value()
    form = SpecForm(one, {"scale_bass_mm": shown, "initial-scale_bass_mm": shown}, unit="64ths")
    assert form.is_valid()
    assert form.values == {}


def test_an_emptied_field_is_assumed_again(as_person, ben, one, address):
    services.record_spec_value(one, "fret_count", 24.0, by=ben)
    as_person(ben).post(address, {"fret_count": "", "initial-fret_count": "24"})
    assert services.effective_spec(one)["fret_count"]["assumed"]


def test_two_screens_are_told_of_each_other(as_person, ben, one, address):
    services.record_spec_value(one, "fret_count", 24.0, by=ben)
    answer = as_person(ben).post(address, {"fret_count": "22", "initial-fret_count": ""})
    assert answer.status_code == 422
    assert "changed this meanwhile to: 24" in answer.content.decode()
    form = answer.context["form"]
    again = as_person(ben).post(address, dict(form.data.items()))
    assert again.status_code == 302
    assert values(one)["fret_count"] == 22.0


def test_the_page_says_what_is_assumed_who_measured_and_what_was_before(as_person, ben, one, address):
    for value in (640.0, 641.0):
        services.record_spec_value(one, "scale_bass_mm", value, by=ben, raw=f"{value:g}")
    text = as_person(ben).get(address).content.decode()
    assert "assumed until measured" in text
    assert "measured" in text
    assert "Ben" in text
    assert "typed 640" in text


def test_what_is_stored_outside_the_bridge_family_is_harmless(as_person, ben, address):
    assert as_person(ben).post(address, {"tail_exit_height_mm": "8"}).status_code == 302


def test_no_such_instrument(as_person, ben):
    assert as_person(ben).get("/instruments/999/measurements/").status_code == 404
