"""The counter's page before anybody is chosen, and what its box finds."""

import pytest

from shop.orders import services
from shop.orders.states import State
from tests import factories
from tests.counter_builders import booked
from tests.counting import stays_the_same

pytestmark = pytest.mark.django_db


def test_it_begins_with_the_box_and_with_what_waits(as_person, cleo):
    order = booked(cleo)
    type(order).objects.update(state=State.READY)
    text = as_person(cleo).get("/counter/").content.decode()
    assert 'name="q"' in text
    assert order.number in text


def test_without_a_script_it_finds_as_well(as_person, cleo):
    one = factories.instrument()
    text = as_person(cleo).get("/counter/", {"q": "mara"}).content.decode()
    assert f"/counter/?instrument={one.pk}" in text
    assert f"/counter/?customer={one.customer_id}" in text


def test_while_typing(as_person, cleo):
    one = factories.instrument()
    text = as_person(cleo).get("/counter/found/", {"q": "lr 04"}).content.decode()
    assert f"/counter/?instrument={one.pk}" in text
    assert "<html" not in text


def test_an_exact_number_leads_to_the_order(as_person, cleo):
    order = booked(cleo)
    assert as_person(cleo).get("/counter/", {"q": order.number})["Location"] == f"/orders/{order.number}/"


def test_what_was_looked_for_in_vain_is_not_typed_twice(as_person, cleo):
    client = as_person(cleo)
    for typed, field in (("Jonas Reed", "name"), ("01632 960555", "phone"), ("jonas@example.com", "email")):
        form = client.get("/counter/", {"new": typed}).context["form"]
        assert form.who[field].value() == typed


@pytest.mark.parametrize("query", ["?customer=999", "?instrument=999"])
def test_nobody_there(as_person, cleo, query):
    assert as_person(cleo).get(f"/counter/{query}").status_code == 404


@pytest.mark.parametrize(
    "query", ["?customer=x", "?instrument=", "?q=%00", "?customer=%C2%B2", "?instrument=" + "9" * 30]
)
def test_nonsense_in_the_address_begins_anew(as_person, cleo, query):
    assert as_person(cleo).get(f"/counter/{query}").status_code == 200


def test_a_known_customer_is_not_asked_again(as_person, cleo):
    one = factories.instrument()
    answer = as_person(cleo).get("/counter/", {"instrument": one.pk})
    assert answer.context["form"].who is None
    assert answer.context["form"].first.what is None
    assert "customer-name" not in answer.content.decode()


def test_a_customer_with_another_instrument_is_asked_for_that_only(as_person, cleo):
    one = factories.instrument()
    answer = as_person(cleo).get("/counter/", {"customer": one.customer_id})
    assert answer.context["form"].who is None
    assert "instrument-kind" in answer.content.decode()
    assert f"/counter/?instrument={one.pk}" in answer.content.decode()


def test_free_places_on_the_rack_are_offered(as_person, cleo):
    factories.workshop(rack_slots="A1\nA2\n")
    services.put_on_rack(booked(cleo), "A1", by=cleo)
    slots = as_person(cleo).get("/counter/", {"new": ""}).context["rack"]
    assert [(slot.name, slot.is_free) for slot in slots] == [("A1", False), ("A2", True)]


def test_it_asks_as_much_of_twice_as_many(as_person, cleo):
    def four_more():
        for number in range(4):
            booked(cleo, customer=factories.customer(name=f"Fell {number}"))

    four_more()
    stays_the_same(as_person(cleo), "/counter/?q=fell", four_more)


def test_the_form_asks_as_much_of_twice_as_many(as_person, cleo):
    def four_more():
        for number in range(4):
            booked(cleo, customer=factories.customer(name=f"Fell {number}"))

    one = factories.instrument()
    stays_the_same(as_person(cleo), f"/counter/?instrument={one.pk}", four_more, most=16)
