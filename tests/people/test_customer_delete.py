"""A record written down by mistake can go; one that anything belongs to stays."""

import pytest

from shop.people import services
from shop.people.models import Customer
from tests import factories

pytestmark = pytest.mark.django_db


def test_it_goes(as_person, cleo):
    who = factories.customer()
    answer = as_person(cleo).post(f"/customers/{who.pk}/delete/")
    assert answer["Location"] == "/customers/"
    assert not Customer.objects.exists()


def test_it_stays_while_an_instrument_belongs_to_it(as_person, cleo):
    who = factories.instrument().customer
    answer = as_person(cleo).post(f"/customers/{who.pk}/delete/", follow=True)
    assert "so the record stays" in answer.content.decode()
    assert Customer.objects.exists()


def test_the_service_says_why():
    with pytest.raises(services.NotAllowed, match=r"has instruments or orders on file.*\.$"):
        services.delete_customer(factories.instrument().customer)


def test_get_is_refused(as_person, cleo):
    assert as_person(cleo).get(f"/customers/{factories.customer().pk}/delete/").status_code == 405


def test_the_bench_may_not(as_person, ben):
    assert as_person(ben).post(f"/customers/{factories.customer().pk}/delete/").status_code == 403
