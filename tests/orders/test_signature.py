"""A signature under the terms, kept with their exact text."""

from base64 import b64encode

import pytest

from shop.orders.forms.terms import terms_key
from shop.orders.models import WorkOrder
from tests import factories, pictures
from tests.counter_builders import booked, form_data

pytestmark = pytest.mark.django_db
TERMS = "Left at your own risk."
SIGNED = "data:image/png;base64," + b64encode(pictures.encoded(pictures.image(800, 240), "PNG")).decode()


def signed(**typed):
    return form_data(**{"terms-read": "on", "terms-key": terms_key(TERMS), "terms-signature": SIGNED} | typed)


def test_terms_and_signature_are_kept_and_shown(as_person, cleo):
    factories.workshop(intake_terms=TERMS)
    client = as_person(cleo)
    client.post("/counter/book-in/", signed())
    order = WorkOrder.objects.get()
    assert order.intake_terms == TERMS
    picture = client.get(f"/orders/{order.number}/signature.png")
    assert picture["Content-Type"] == "image/png"
    assert pictures.opened(b"".join(picture.streaming_content)).size == (800, 240)
    assert f"/orders/{order.number}/signature.png" in client.get(f"/orders/{order.number}/").content.decode()


def test_terms_that_were_changed_meanwhile_are_shown_again(as_person, cleo):
    factories.workshop(intake_terms=TERMS + " And more.")
    answer = as_person(cleo).post("/counter/book-in/", signed())
    assert answer.status_code == 422
    assert "let the customer read them again" in answer.content.decode()


@pytest.mark.parametrize("sent", ["õ*¿", "data:image/png;base64,õ", "data:image/png;base64,AAAA", "A"])
def test_a_signature_that_did_not_arrive_is_asked_for_again(as_person, cleo, sent):
    factories.workshop(intake_terms=TERMS)
    answer = as_person(cleo).post("/counter/book-in/", signed(**{"terms-signature": sent}))
    assert answer.status_code == 422
    assert "sign again" in answer.content.decode()
    assert not WorkOrder.objects.exists()


def test_terms_that_nobody_ticked_are_not_kept(as_person, cleo):
    factories.workshop(intake_terms=TERMS)
    as_person(cleo).post("/counter/book-in/", form_data())
    assert WorkOrder.objects.get().intake_terms == ""


def test_nothing_signed_is_not_found(as_person, cleo):
    assert as_person(cleo).get(f"/orders/{booked(cleo).number}/signature.png").status_code == 404
