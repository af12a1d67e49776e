"""The workshop's own details."""

import pytest

from shop.staff.forms import WorkshopForm
from shop.staff.models import Workshop

pytestmark = pytest.mark.django_db


def filled(**changes):
    form = WorkshopForm(instance=Workshop.here())
    values = {name: form.initial[name] for name in form.fields}
    return {name: value for name, value in (values | changes).items() if value not in (None, False)}


def test_owner_saves_them(as_person, ada):
    answer = as_person(ada).post("/office/workshop/", filled(name="Reed & Bow", currency="chf", paper="Letter"))
    assert answer.status_code == 302
    assert (Workshop.here().name, Workshop.here().currency, Workshop.here().paper) == ("Reed & Bow", "CHF", "Letter")


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"time_zone": "Moon/Base"}, "Choose a zone"),
        ({"currency": "E1"}, "capital letters"),
        ({"iban": "DE89370400440532013001"}, "not a valid IBAN"),
        ({"tax_rate": "-1"}, "greater than or equal to 0"),
        ({"reference_pitch_hz": "nan"}, "number"),
    ],
)
def test_nonsense_is_said_and_kept(as_person, ada, changes, says):
    answer = as_person(ada).post("/office/workshop/", filled(name="Typed name", **changes))
    assert answer.status_code == 422
    assert says in answer.text
    assert "Typed name" in answer.text
    assert Workshop.here().name != "Typed name"


def test_only_the_owner(as_person, ben, cleo):
    for person in (ben, cleo):
        assert as_person(person).get("/office/workshop/").status_code == 403


def test_there_is_one_workshop(db):
    assert Workshop.here() == Workshop.here()
    assert Workshop.objects.count() == 1
