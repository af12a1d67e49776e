"""Each device at the bench reads in its own unit and remembers its gauges, in a signed cookie."""

import uuid

import pytest

from shop.worksheets.device import COOKIE
from shop.worksheets.models import Reading
from tests import factories


def choose(client, **sent):
    return client.post("/bench/device/", {"unit": "", "next": "/bench/"} | sent)


def test_a_device_in_inches_reads_and_shows_inches_whatever_the_shop_has(as_person, ben, sheet, type_in):
    client = as_person(ben)
    assert choose(client, unit="in").url == "/bench/"
    told = type_in(ben, raw="0.008").json()
    assert Reading.objects.get().value == pytest.approx(0.2032)
    assert told["fields"]["bench-relief"]["value"] == "0.008"
    page = client.get(f"/bench/{sheet.pk}/relief/").content.decode()
    assert 'data-unit="in"' in page
    assert "between 0.004 and 0.012 in" in page


def test_another_device_shows_the_same_reading_with_its_unit(as_person, ben, sheet, type_in, client):
    choose(as_person(ben), unit="in")
    type_in(ben, raw="0.008")
    client.cookies.pop(COOKIE)
    page = client.get(f"/bench/{sheet.pk}/relief/").content.decode()
    assert 'value="0.008 in"' in page
    assert "between 0.10 and 0.30 mm" in page


def test_what_was_typed_before_the_change_is_read_in_the_unit_it_was_typed_in(as_person, ben, sheet, type_in):
    """A reading that waited on the device carries its unit along."""
    choose(as_person(ben), unit="in")
    told = type_in(ben, raw="0.2", unit="mm").json()
    assert Reading.objects.get().value == 0.2
    assert told["fields"]["bench-relief"]["value"] == "0.2 mm"


@pytest.mark.parametrize(("raw", "unit", "value", "shown"), [
    ("4", "64ths", 1.5875, "4/64 in"), ("1.6", "mm", 1.6, "1.6 mm"), ("4/64", "mm", 1.5875, "4/64"),
])  # fmt: skip
def test_a_bare_figure_of_another_unit_reads_back_the_same(as_person, ben, type_in, raw, unit, value, shown):
    choose(as_person(ben), unit="in")
    place = {"step": "height", "key": "height_12", "string": 6}
    told = type_in(ben, raw=raw, unit=unit, **place).json()
    assert told["fields"]["bench-height_12-6"]["value"] == shown
    assert Reading.objects.get().value == pytest.approx(value)
    type_in(ben, raw=shown, unit="in", client_id=str(uuid.uuid4()), **place)
    assert Reading.objects.order_by("-pk")[0].value == pytest.approx(value)


def test_the_last_gauge_of_a_kind_is_chosen_already(as_person, ben, sheet, type_in):
    type_in(ben, gauge="dial")
    page = as_person(ben).get(f"/bench/{sheet.pk}/relief/").content.decode()
    assert '<option value="dial" selected>' in page
    page = as_person(ben).get("/bench/device/").content.decode()
    assert "<dt>Relief</dt><dd>dial gauge</dd>" in page
    choose(as_person(ben), forget="1")
    assert '"dial" selected' not in as_person(ben).get(f"/bench/{sheet.pk}/relief/").content.decode()


def test_both_sides_of_the_bridge_are_one_kind(as_person, ben, sheet, type_in):
    type_in(ben, step="tail", key="stud_treble", raw="4", gauge="fine_rule")
    assert '<option value="fine_rule" selected>' in as_person(ben).get(f"/bench/{sheet.pk}/tail/").content.decode()


@pytest.mark.parametrize("cookie", ["", "nonsense", "eyJ1bml0IjoiaW4ifQ:1abc:xyz"])
def test_a_cookie_that_was_tampered_with_is_as_good_as_none(as_person, ben, sheet, cookie):
    client = as_person(ben)
    client.cookies[COOKIE] = cookie
    assert 'data-unit="mm"' in client.get(f"/bench/{sheet.pk}/relief/").content.decode()


def test_no_such_unit_is_422_and_no_strange_address_is_gone_to(as_person, ben, db):
    assert choose(as_person(ben), unit="ells").status_code == 422
    assert choose(as_person(ben), unit="mm", next="https://elsewhere.test/").url == "/bench/"


def test_the_counter_may_choose_its_unit_too(as_person, cleo):
    factories.workshop(length_unit="in")
    assert "as the workshop (inches, decimal)" in as_person(cleo).get("/bench/device/").content.decode()
