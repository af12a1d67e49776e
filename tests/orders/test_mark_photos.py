"""A photograph for each mark: sent ahead of the form under a key of its own, kept once, and kept with its mark."""

import uuid

import pytest

from shop.handover.making import receipt_paper
from shop.orders.models import ConditionMark, Photo, WorkOrder
from tests import pictures
from tests.counter_builders import booked, form_data

pytestmark = pytest.mark.django_db
KEEP = "/counter/photos/keep/"


def marked(key, **typed):
    return form_data() | {"marks-0-x": "0.7", "marks-0-y": "0.8", "marks-0-note": "dent", "marks-0-photo": key} | typed


def sent(client, data, key, file=None):
    body = {"job-draft_key": data["job-draft_key"], "key": key, "job-photos": file or pictures.photo()}
    return client.post(KEEP, body)


def test_it_is_kept_with_its_mark(as_person, cleo):
    client, key = as_person(cleo), str(uuid.uuid4())
    data = marked(key)
    assert sent(client, data, key).status_code == 200
    assert client.get(f"/counter/photos/{key}.jpg")["Content-Type"] == "image/jpeg"
    client.post("/counter/book-in/", data)
    mark = ConditionMark.objects.get()
    assert (mark.photo.order, mark.photo.draft_key) == (mark.order, None)
    text = client.get(f"/orders/{mark.order.number}/").content.decode()
    assert text.count(f"/photos/{mark.photo_id}/?size=small") == 1  # with the mark, not once more below
    assert client.get(f"/counter/photos/{key}.jpg").status_code == 404


def test_sent_again_it_is_kept_once(as_person, cleo):
    client, key = as_person(cleo), str(uuid.uuid4())
    data = marked(key)
    for _ in range(2):
        assert sent(client, data, key).status_code == 200
    assert Photo.objects.count() == 1


def test_one_that_never_arrived_is_asked_for_and_nothing_is_booked_in(as_person, cleo):
    answer = as_person(cleo).post("/counter/book-in/", marked(str(uuid.uuid4())))
    assert answer.status_code == 422
    assert "The photograph of this mark has not arrived." in answer.content.decode()
    assert not WorkOrder.objects.exists()


def test_one_of_another_draft_is_no_photograph_of_this_one(as_person, cleo):
    client, key = as_person(cleo), str(uuid.uuid4())
    sent(client, form_data(), key)
    assert client.post("/counter/book-in/", marked(key)).status_code == 422


def test_a_file_that_is_none_is_refused(as_person, cleo):
    key = str(uuid.uuid4())
    answer = sent(as_person(cleo), marked(key), key, pictures.upload(b"<svg/>", "x.jpg", "image/jpeg"))
    assert answer.status_code == 422
    assert not Photo.objects.exists()


@pytest.mark.parametrize("key", ["", "mine", "9" * 40])
def test_a_key_that_is_none_names_no_photograph(as_person, cleo, key):
    answer = as_person(cleo).post("/counter/book-in/", marked(key))
    assert answer.status_code == (302 if key == "" else 422)


def test_a_mark_and_its_photograph_are_added_on_the_orders_page(as_person, cleo):
    order, client = booked(cleo), as_person(cleo)
    typed = {"mark-side": "back", "mark-place": "end", "mark-note": "crack", "mark-file": pictures.photo()}
    client.post(f"/orders/{order.number}/marks/", typed)
    mark = order.marks.get()
    assert mark.photo.caption == "crack"
    refused = typed | {"mark-file": pictures.upload(b"text"), "mark-note": "dent"}
    answer = client.post(f"/orders/{order.number}/marks/", refused)
    assert answer.status_code == 422
    assert "This is not a photograph" in answer.content.decode()
    assert "dent" in answer.content.decode()
    assert order.marks.count() == 1


def test_a_mark_without_one_can_be_photographed_later(as_person, cleo):
    marks = (ConditionMark(x=0.5, y=0.5, note="dent"),)
    order, client = booked(cleo, marks=marks), as_person(cleo)
    address = f"/orders/{order.number}/marks/{order.marks.get().pk}/photo/"
    assert client.post(address).status_code == 302  # nothing chosen: said on the page
    assert client.post(address, {"file": pictures.upload(b"text")}).status_code == 302
    assert order.marks.get().photo is None
    client.post(address, {"file": pictures.photo()})
    kept = order.marks.get().photo
    client.post(address, {"file": pictures.photo()})
    assert order.marks.get().photo == kept
    assert Photo.objects.count() == 1


def test_the_receipt_shows_it(cleo, as_person):
    client, key = as_person(cleo), str(uuid.uuid4())
    data = marked(key)
    sent(client, data, key)
    client.post("/counter/book-in/", data)
    with_it = receipt_paper(WorkOrder.objects.get()).read()
    assert with_it.count(b"/Subtype /Image") + with_it.count(b"/Subtype/Image") >= 1
