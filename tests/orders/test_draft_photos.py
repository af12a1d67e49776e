"""Photographs taken before the order is there: kept with the draft, handed to its order, swept if nobody comes back."""

import uuid
from datetime import timedelta
from pathlib import Path

import pytest
from django.utils import timezone

from shop.lib.images import ImageRefused
from shop.orders import services
from shop.orders.models import Photo, WorkOrder
from shop.orders.services import photos as photo_services
from tests import pictures
from tests.counter_builders import form_data

pytestmark = pytest.mark.django_db
KEEP = "/counter/photos/keep/"


def kept(client, key, *files):
    return client.post(KEEP, {"job-draft_key": key, "job-photos": list(files)})


def test_it_is_kept_and_belongs_to_the_order_afterwards(as_person, cleo):
    client, data = as_person(cleo), form_data()
    answer = kept(client, data["job-draft_key"], pictures.photo(), pictures.photo())
    assert answer.status_code == 200
    assert answer.content.decode().count("<img") == 2
    client.post("/counter/book-in/", data)
    assert WorkOrder.objects.get().photos.count() == 2
    assert not Photo.objects.filter(order=None).exists()


def test_files_sent_with_the_form_are_kept_too(as_person, cleo):
    as_person(cleo).post("/counter/book-in/", form_data() | {"job-photos": [pictures.photo(), pictures.photo()]})
    assert WorkOrder.objects.get().photos.count() == 2


def test_a_refused_form_keeps_its_photographs(as_person, cleo):
    client, data = as_person(cleo), form_data()
    answer = client.post("/counter/book-in/", data | {"job-complaint": "", "job-photos": pictures.photo()})
    assert answer.status_code == 422
    assert answer.content.decode().count('alt="Photograph') == 1
    client.post("/counter/book-in/", data)
    assert WorkOrder.objects.get().photos.count() == 1


def test_a_file_that_is_no_photograph_holds_the_book_in(as_person, cleo):
    bad = pictures.upload(b"<svg/>", "../../evil.svg", "image/svg+xml")
    answer = as_person(cleo).post("/counter/book-in/", form_data() | {"job-photos": [pictures.photo(), bad]})
    assert answer.status_code == 422
    assert "evil.svg: This is not a photograph" in answer.content.decode()
    assert not WorkOrder.objects.exists()
    assert Photo.objects.count() == 1


def test_one_bad_file_does_not_lose_the_good_one(as_person, cleo):
    answer = kept(as_person(cleo), uuid.uuid4(), pictures.upload(b"text"), pictures.photo())
    assert answer.status_code == 422
    assert Photo.objects.count() == 1


def test_the_name_it_came_with_is_never_used(as_person, cleo, settings):
    kept(as_person(cleo), uuid.uuid4(), pictures.photo(name="../../../../tmp/evil.php"))
    files = [path for path in Path(settings.FILES_ROOT).rglob("*") if path.is_file()]
    assert len(files) == 2
    assert all(path.suffix == ".jpg" and "evil" not in path.name for path in files)


def test_without_a_draft_it_is_refused(as_person, cleo):
    assert kept(as_person(cleo), "mine", pictures.photo()).status_code == 422
    assert not Photo.objects.exists()


def test_it_can_be_dropped_with_its_files(as_person, cleo, settings, django_capture_on_commit_callbacks):
    client = as_person(cleo)
    kept(client, uuid.uuid4(), pictures.photo())
    with django_capture_on_commit_callbacks(execute=True):
        client.post(f"/counter/photos/{Photo.objects.get().pk}/drop/")
    assert not Photo.objects.exists()
    assert not [path for path in Path(settings.FILES_ROOT).rglob("*") if path.is_file()]


def test_an_orders_photograph_cannot_be_dropped_here(as_person, cleo):
    client, data = as_person(cleo), form_data()
    client.post("/counter/book-in/", data | {"job-photos": pictures.photo()})
    assert client.post(f"/counter/photos/{Photo.objects.get().pk}/drop/").status_code == 404


def test_a_draft_is_taken_up_again(as_person, cleo):
    client, key = as_person(cleo), uuid.uuid4()
    kept(client, key, pictures.photo())
    assert client.get("/counter/photos/", {"draft_key": key}).content.decode().count("<img") == 1
    assert client.get("/counter/photos/", {"draft_key": uuid.uuid4()}).content.decode().count("<img") == 0
    assert client.get("/counter/photos/", {"draft_key": "x"}).status_code == 200


def test_drafts_that_nobody_books_in_are_swept(cleo):
    old = services.keep_draft_photo(uuid.uuid4(), pictures.photo(), by=cleo)
    Photo.objects.filter(pk=old.pk).update(at=timezone.now() - timedelta(days=15))
    services.keep_draft_photo(uuid.uuid4(), pictures.photo(), by=cleo)
    assert not Photo.objects.filter(pk=old.pk).exists()
    assert Photo.objects.count() == 1


def test_there_is_an_end_to_it(cleo, monkeypatch):
    monkeypatch.setattr(photo_services, "MOST_PHOTOS", 1)
    key = uuid.uuid4()
    services.keep_draft_photo(key, pictures.photo(), by=cleo)
    with pytest.raises(ImageRefused, match="remove one first"):
        services.keep_draft_photo(key, pictures.photo(), by=cleo)
