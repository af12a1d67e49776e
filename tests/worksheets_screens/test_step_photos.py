"""Photographs of a step: kept with the order, shown in the step, told apart by before and after, removed again."""

import uuid

import pytest
from django.utils import timezone

from shop.handover.papers import photos_of
from shop.orders import services as orders
from shop.orders.models import Photo
from tests import factories, pictures
from tests import worksheet_builders as build

JSON = {"Accept": "application/json"}


def add(client, sheet, *files, step="tail", when="after", caption="", key="", **options):
    given = {"photos": list(files), "when": when, "caption": caption, "key": key}
    return client.post(f"/bench/{sheet.pk}/{step}/photos/", given, **options)


def test_it_is_kept_with_the_order_and_shown_in_its_step_alone(as_person, ben, sheet):
    client = as_person(ben)
    assert add(client, sheet, pictures.photo(), caption="new studs").url == f"/bench/{sheet.pk}/tail/"
    photo = sheet.order.photos.get()
    assert (photo.step, photo.caption, photo.by) == ("tail", "After: new studs", ben)
    assert sheet.order.events.get(what="photo_added").text == "Photograph added: After: new studs."
    assert f"/photos/{photo.pk}/?size=small" in client.get(f"/bench/{sheet.pk}/tail/").content.decode()
    assert f"/photos/{photo.pk}/" not in client.get(f"/bench/{sheet.pk}/relief/").content.decode()
    assert f"/photos/{photo.pk}/" in client.get(f"/orders/{sheet.order.number}/").content.decode()


def test_a_script_gets_the_piece(as_person, ben, sheet):
    told = add(as_person(ben), sheet, pictures.photo(), headers=JSON).json()
    assert f"/photos/{Photo.objects.get().pk}/" in told["pieces"]["photos"]


def test_the_same_key_is_kept_once_and_the_history_says_so_once(as_person, ben, sheet):
    client, key = as_person(ben), uuid.uuid4()
    for _ in range(2):
        assert add(client, sheet, pictures.photo(), caption="new studs", key=key, headers=JSON).status_code == 200
    assert sheet.order.photos.get().upload_key == key
    assert sheet.order.events.filter(what="photo_added").count() == 1


def test_a_key_is_of_one_file_alone(as_person, ben, sheet):
    add(as_person(ben), sheet, pictures.photo(), pictures.photo(), key=uuid.uuid4())
    assert [one.upload_key for one in sheet.order.photos.all()] == [None, None]


def test_what_is_no_photograph_is_said_and_the_others_are_kept(as_person, ben, sheet):
    answer = add(as_person(ben), sheet, pictures.photo(), pictures.upload(b"text", "a.jpg"))
    assert answer.status_code == 422
    assert "a.jpg: This is not a photograph" in answer.content.decode()
    assert sheet.order.photos.count() == 1


@pytest.mark.parametrize(("given", "said"), [
    ({"when": "after"}, "Take or choose a photograph first."),
    ({"when": "soon"}, "Say whether it was before or after."),
    ({"when": "after", "caption": "x" * 181}, "Say what it shows in 180 characters or fewer."),
])  # fmt: skip
def test_what_is_missing_is_said(as_person, ben, sheet, given, said):
    answer = as_person(ben).post(f"/bench/{sheet.pk}/tail/photos/", given)
    assert answer.status_code == 422
    assert said in answer.content.decode()


def test_it_is_removed_without_a_reason_and_the_history_says_so(as_person, ben, sheet):
    client = as_person(ben)
    add(client, sheet, pictures.photo())
    photo = Photo.objects.get()
    assert client.post(f"/bench/{sheet.pk}/tail/photos/{photo.pk}/remove/").url == f"/bench/{sheet.pk}/tail/"
    assert not Photo.objects.exists()
    assert sheet.order.events.filter(what="photo_removed").exists()


def test_another_orders_photograph_is_not_found(as_person, ben, sheet):
    other = build.at_bench(factories.instrument(factories.customer()), ben)
    photo = orders.add_photo(other, pictures.photo(), by=ben)
    assert as_person(ben).post(f"/bench/{sheet.pk}/tail/photos/{photo.pk}/remove/").status_code == 404
    assert Photo.objects.exists()


def test_those_of_a_closed_order_stay(as_person, ben, sheet):
    photo = orders.add_photo(sheet.order, pictures.photo(), by=ben, step="tail")
    type(sheet.order).objects.filter(pk=sheet.order_id).update(closed_at=timezone.now())
    answer = as_person(ben).post(f"/bench/{sheet.pk}/tail/photos/{photo.pk}/remove/")
    assert answer.status_code == 422
    assert "its photographs stay as they are" in answer.content.decode()
    page = as_person(ben).get(f"/bench/{sheet.pk}/tail/").content.decode()
    assert "Take a photograph" not in page


def test_the_counter_sees_them_and_takes_none(as_person, cleo, ben, sheet):
    orders.add_photo(sheet.order, pictures.photo(), by=ben, step="tail")
    page = as_person(cleo).get(f"/bench/{sheet.pk}/tail/").content.decode()
    assert "?size=small" in page
    assert "Take a photograph" not in page
    assert add(as_person(cleo), sheet, pictures.photo()).status_code == 403


def test_the_handover_sheet_takes_two_of_before_and_the_last_two_of_after(as_person, ben, sheet):
    client = as_person(ben)
    orders.add_photo(sheet.order, pictures.photo(), by=ben, caption="at the counter")
    add(client, sheet, pictures.photo(), step="inspect", when="before", caption="nut")
    for number in (1, 2, 3):
        add(client, sheet, pictures.photo(), caption=str(number))
    shown, _ = photos_of(sheet.order)
    assert [one["caption"] for one in shown] == ["at the counter", "Before: nut", "After: 2", "After: 3"]
