"""Customers are found by whatever somebody remembers of them."""

import pytest

from shop.people.models import Customer
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def mara():
    factories.customer(name="Jonas Reed", email="jonas@example.com", phone="+49 30 2312 5000")
    return factories.customer(name="Mára Fell", company="Tide Quartet", email="mara@example.com", phone="01632 960123")


@pytest.mark.parametrize(
    "remembered",
    ["mara", "FELL", "fell mara", "tide", "mara@exa", "960123", "01632 960 123", "+44 1632 960123",
     "+44 (0)1632-960123", "0044 1632 960123", "1632960"],
)  # fmt: skip
def test_she_is_found(remembered, mara):
    assert list(Customer.objects.matching(remembered)) == [mara]


@pytest.mark.parametrize("remembered", ["mara reed", "960124", "12", "%", "_", "' OR 1=1", "x" * 5000, "\x00"])
def test_she_is_not_found(remembered, mara):
    assert mara not in Customer.objects.matching(remembered)


@pytest.mark.parametrize("nothing", ["", "   "])
def test_nothing_asked_finds_nobody(nothing):
    assert not Customer.objects.matching(nothing).exists()


@pytest.mark.parametrize("written", ["+44 1632 960123", "01632-960123", "0044(1632)960123", "1632 960123"])
def test_the_same_telephone_in_another_format(written, mara):
    assert list(Customer.objects.with_telephone(written)) == [mara]


@pytest.mark.parametrize("written", ["960123", "", "01632 960124", "+33 1632 960123x9"])
def test_another_telephone(written):
    assert not Customer.objects.with_telephone(written).exists()


def test_the_same_address_in_other_case(mara):
    assert list(Customer.objects.with_email(" MARA@example.com ")) == [mara]
