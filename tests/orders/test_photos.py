"""An order's photographs: added, shown to those who may, removed."""

import uuid

import pytest

from shop.orders import services
from shop.orders.models import Photo
from shop.orders.states import State
from tests import pictures
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(cleo):
    return booked(cleo)


def add(client, order, *files, **fields):
    return client.post(f"/orders/{order.number}/photos/", {"photos": list(files), **fields}, follow=True)


def test_it_is_added_with_what_it_shows(as_person, ben, order):
    add(as_person(ben), order, pictures.photo(), caption="crack behind the bridge")
    photo = order.photos.get()
    assert (photo.caption, photo.by) == ("crack behind the bridge", ben)
    assert order.events.get(what="photo_added").text == "Photograph added: crack behind the bridge."


def test_what_is_none_is_said(as_person, ben, order):
    answer = add(as_person(ben), order, pictures.upload(b"text", "a.jpg"))
    assert "a.jpg: This is not a photograph" in answer.content.decode()
    assert not order.photos.exists()


def test_nothing_chosen_is_said(as_person, ben, order):
    assert "Choose a photograph first" in add(as_person(ben), order).content.decode()


def test_it_is_served_as_a_picture_and_nothing_else(as_person, ben, order):
    photo = services.add_photo(order, pictures.photo(2000, 1500), by=ben)
    client = as_person(ben)
    whole, small = client.get(f"/photos/{photo.pk}/"), client.get(f"/photos/{photo.pk}/?size=small")
    assert whole["Content-Type"] == small["Content-Type"] == "image/jpeg"
    assert whole["X-Content-Type-Options"] == "nosniff"
    assert "private" in whole["Cache-Control"]
    assert pictures.opened(b"".join(whole.streaming_content)).size == (1600, 1200)
    assert max(pictures.opened(b"".join(small.streaming_content)).size) == 360


def test_nobody_who_is_not_signed_in_sees_it(client, ben, order):
    photo = services.add_photo(order, pictures.photo(), by=ben)
    assert client.get(f"/photos/{photo.pk}/")["Location"].startswith("/sign-in/")


def test_a_file_that_is_gone_is_not_found(as_person, ben, order):
    photo = services.add_photo(order, pictures.photo(), by=ben)
    photo.file.storage.delete(photo.file.name)
    assert as_person(ben).get(f"/photos/{photo.pk}/").status_code == 404


def test_it_is_removed_and_the_history_says_so(as_person, ben, order):
    photo = services.add_photo(order, pictures.photo(), by=ben, caption="dent")
    answer = as_person(ben).post(f"/photos/{photo.pk}/remove/")
    assert answer["Location"] == f"/orders/{order.number}/"
    assert not Photo.objects.exists()
    assert order.events.get(what="photo_removed").text == "Photograph removed: dent."


def test_one_of_a_collected_order_stays(as_person, ben, order):
    photo = services.add_photo(order, pictures.photo(), by=ben)
    type(order).objects.update(state=State.COLLECTED, closed_at=order.booked_at)
    answer = as_person(ben).post(f"/photos/{photo.pk}/remove/", follow=True)
    assert "photographs stay as they are" in answer.content.decode()
    assert Photo.objects.exists()


def test_a_drafts_photograph_is_no_orders(as_person, ben, cleo):
    photo = services.keep_draft_photo(uuid.uuid4(), pictures.photo(), by=cleo)
    assert as_person(ben).post(f"/photos/{photo.pk}/remove/").status_code == 404


def test_not_there(as_person, ben):
    assert as_person(ben).get("/photos/999/").status_code == 404
