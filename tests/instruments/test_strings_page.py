"""Writing down the strings: from a usual set and tuning, or string by string."""

import pytest

from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def one():
    return factories.instrument()


@pytest.fixture
def address(one):
    return f"/instruments/{one.pk}/strings/"


def sent(form, **typed):
    data = {bound.html_name: bound.value() or "" for row in form.rows for bound in row}
    return data | {name.replace("__", "-"): value for name, value in typed.items()}


def test_it_begins_with_what_is_usual(as_person, ben, address):
    form = as_person(ben).get(address).context["form"]
    assert [row["note"].value() for row in form.rows] == ["E4", "B3", "G3", "D3", "A2", "E2"]
    assert form.rows[0]["thickness"].value() == "0.010 in"


def test_a_set_and_a_tuning_fill_it_in_without_saving(as_person, ben, one, address):
    answer = as_person(ben).get(address, {"set": "electric-6-extra-light", "tuning": "a tone down"})
    form = answer.context["form"]
    assert [row["thickness"].value() for row in form.rows][::5] == ["0.009 in", "0.042 in"]
    assert form.rows[5]["note"].value() == "D2"
    assert "not saved yet" in answer.content.decode()
    assert not one.strings.exists()


def test_they_are_written_down(as_person, ben, one, address):
    client = as_person(ben)
    data = sent(client.get(address).context["form"], **{"string-6__note": "D2", "string-6__thickness": "1.3 mm"})
    assert client.post(address, data)["Location"] == f"/instruments/{one.pk}/"
    lowest = one.strings.get(number=6)
    assert (lowest.midi, lowest.diameter_mm, lowest.assumed) == (38, 1.3, False)
    assert one.strings.count() == 6


def test_writing_again_replaces(as_person, ben, one, address):
    client = as_person(ben)
    data = sent(client.get(address).context["form"])
    client.post(address, data)
    client.post(address, data)
    assert one.strings.count() == 6


@pytest.mark.parametrize(
    ("field", "typed"),
    [("string-6-note", "H9"), ("string-6-note", ""), ("string-6-thickness", "fat"), ("string-6-thickness", "20 mm"),
     ("string-6-core", "2 mm"), ("string-6-material", "gut")],
)  # fmt: skip
def test_bad_input_is_said_and_nothing_is_lost(as_person, ben, one, address, field, typed):
    client = as_person(ben)
    answer = client.post(address, sent(client.get(address).context["form"]) | {field: typed})
    assert answer.status_code == 422
    row = answer.context["form"].rows[5]
    assert all(error.endswith(".") for error in row.errors[field.rpartition("-")[2]])
    assert not one.strings.exists()


def test_nonsense_in_the_address_fills_nothing_in(as_person, ben, address):
    answer = as_person(ben).get(address, {"set": "gold", "tuning": "x"})
    assert answer.status_code == 200
    assert answer.context["filled"] is False
