"""A new customer's record."""

import pytest

from shop.people.models import Customer

pytestmark = pytest.mark.django_db
WHOLE = {"name": "Jonas Reed", "phone": "01632 960555", "mail_agreed": "on"}


def test_it_is_kept(as_person, cleo):
    answer = as_person(cleo).post("/customers/new/", WHOLE | {"country": "de", "vat_number": "DE 136695976"})
    who = Customer.objects.get()
    assert answer["Location"] == f"/customers/{who.pk}/"
    assert (who.name, who.country, who.vat_number, who.created_by) == ("Jonas Reed", "DE", "DE136695976", cleo)


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("name", ""),
        ("name", "x" * 121),
        ("email", "jonas@"),
        ("country", "D3"),
        ("vat_number", "DE1"),
        ("notes", "x" * 2001),
    ],
)
def test_bad_input_is_said_beside_its_field_and_kept(as_person, cleo, field, typed):
    answer = as_person(cleo).post("/customers/new/", WHOLE | {"company": "Tide Quartet", field: typed})
    assert answer.status_code == 422
    errors = answer.context["form"].errors[field]
    assert all(error.endswith(".") for error in errors)
    assert "Tide Quartet" in answer.content.decode()
    assert not Customer.objects.exists()


def test_the_bench_may_not(as_person, ben):
    assert as_person(ben).post("/customers/new/", WHOLE).status_code == 403
    assert not Customer.objects.exists()


def test_delete_is_refused_as_a_method(as_person, cleo):
    assert as_person(cleo).delete("/customers/new/").status_code == 405
