"""Changing a customer's record. What two screens do to each other is tested with the form."""

import pytest

from shop.people.models import Customer
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def mara():
    return factories.customer()


def sent(client, mara, **typed):
    """What a browser sends back for the form as it was shown."""
    form = client.get(f"/customers/{mara.pk}/edit/").context["form"]
    shown = {bound.html_name: bound.value() for bound in form}
    data = {name: value for name, value in shown.items() if value not in (None, False)}
    return data | {f"initial-{name}": value for name, value in data.items()} | typed


def test_it_is_kept_and_found_by_its_new_name(as_person, cleo, mara):
    client = as_person(cleo)
    answer = client.post(f"/customers/{mara.pk}/edit/", sent(client, mara, name="Mara Hay"))
    assert answer["Location"] == f"/customers/{mara.pk}/"
    assert list(Customer.objects.matching("hay")) == [mara]


def test_bad_input_changes_nothing(as_person, cleo, mara):
    client = as_person(cleo)
    answer = client.post(f"/customers/{mara.pk}/edit/", sent(client, mara, email="nowhere", name="Mara Hay"))
    assert answer.status_code == 422
    assert "Mara Hay" in answer.content.decode()
    mara.refresh_from_db()
    assert mara.name == "Mara Fell"


def test_a_tick_taken_away_is_kept(as_person, cleo, mara):
    client = as_person(cleo)
    data = sent(client, mara)
    del data["mail_agreed"]
    client.post(f"/customers/{mara.pk}/edit/", data)
    mara.refresh_from_db()
    assert mara.mail_agreed is False


def test_the_bench_may_not(as_person, ben, mara):
    assert as_person(ben).post(f"/customers/{mara.pk}/edit/", {"name": "X"}).status_code == 403


def test_nobody_by_that_number(as_person, cleo):
    assert as_person(cleo).get("/customers/999/edit/").status_code == 404
