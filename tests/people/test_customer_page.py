"""One customer's page."""

import pytest

from tests import counter_builders, factories

pytestmark = pytest.mark.django_db


def test_it_shows_contact_instruments_and_orders(as_person, cleo):
    order = counter_builders.booked(cleo)
    text = as_person(cleo).get(f"/customers/{order.customer_id}/").content.decode()
    for said in (order.customer.phone, order.customer.email, str(order.instrument), order.number):
        assert said in text


def test_nobody_by_that_number(as_person, cleo):
    assert as_person(cleo).get("/customers/999/").status_code == 404


def test_what_people_typed_is_only_text(as_person, cleo):
    who = factories.customer(name="<script>alert(1)</script>", notes="<b>x</b>")
    text = as_person(cleo).get(f"/customers/{who.pk}/").content.decode()
    assert "<script>alert" not in text
    assert "<b>x</b>" not in text


def test_the_bench_sees_but_does_not_change(as_person, ben):
    who = factories.customer()
    text = as_person(ben).get(f"/customers/{who.pk}/").content.decode()
    assert f"/customers/{who.pk}/edit/" not in text
