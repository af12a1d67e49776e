"""Somebody or something on file is noticed while it is typed again."""

import pytest

from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def one():
    return factories.instrument()


def asked(client, **typed):
    return client.get(
        "/counter/alike/", {name.replace("_", "-"): text for name, text in typed.items()}
    ).content.decode()


@pytest.mark.parametrize(
    ("field", "typed", "why"),
    [
        ("customer_phone", "+44 (0)1632 960 123", "the same telephone number"),
        ("customer_phone", "01632960123", "the same telephone number"),
        ("customer_email", "MARA@EXAMPLE.COM", "the same e-mail address"),
    ],
)
def test_the_customer(as_person, cleo, one, field, typed, why):
    text = asked(as_person(cleo), **{field: typed})
    assert why in text
    assert f"/counter/?customer={one.customer_id}" in text


def test_one_person_is_named_once_with_both_reasons(as_person, cleo, one):
    text = asked(as_person(cleo), customer_phone="01632 960123", customer_email="mara@example.com")
    assert text.count("Book in for Mara Fell") == 1
    assert "the same telephone number and the same e-mail address" in text


def test_the_instrument_may_have_changed_hands(as_person, cleo, one):
    other = factories.customer(name="Jonas Reed", phone="", email="")
    text = asked(as_person(cleo), instrument_serial="lr 0412", customer=other.pk)
    assert f"/counter/?instrument={one.pk}&amp;customer={other.pk}" in text


@pytest.mark.parametrize("typed", ["", "960", "01632 960124", "x" * 400, "\x00"])
def test_nothing_alike(as_person, cleo, one, typed):
    text = asked(as_person(cleo), customer_phone=typed, customer_email=typed, instrument_serial=typed)
    assert "On file" not in text


def test_the_bench_may_not(as_person, ben):
    assert as_person(ben).get("/counter/alike/").status_code == 403
