"""Downloads that take long leave pages their room; what is small already is not compressed again."""

import gc
import gzip
import threading

import pytest
from django.core.signals import request_finished
from django.db import close_old_connections

from shop.lib import sending
from shop.orders import services
from shop.staff.models import AuditEntry, AuditKind
from tests import counter_builders, pictures

pytestmark = pytest.mark.django_db
A_TABLE = "/customers/export.csv"


@pytest.fixture(autouse=True)
def places(monkeypatch):
    """As many as a web server has, for this test alone; and nobody waits for one."""
    monkeypatch.setattr(sending, "_places", threading.BoundedSemaphore(sending.AT_ONCE))
    monkeypatch.setattr(sending, "PATIENCE_S", 0.01)


@pytest.fixture
def one_connection():
    """The end of an answer leaves this test's own connection to the database alone."""
    request_finished.disconnect(close_old_connections)
    yield
    request_finished.connect(close_old_connections)


def exported():
    return AuditEntry.objects.filter(kind=AuditKind.EXPORT).count()


def test_a_third_one_is_begun_when_one_has_arrived(as_person, ada):
    client = as_person(ada)
    first, second = client.get("/office/data/everything.zip"), client.get(A_TABLE)
    refused = client.get(A_TABLE)
    assert (refused.status_code, refused["Retry-After"]) == (503, "30")
    assert "Others are on their way" in refused.text
    assert exported() == 2, "what was not begun is not in the record"
    assert client.get("/customers/").status_code == 200, "a page is nothing of that kind"
    assert b"".join(first.streaming_content)
    third = client.get(A_TABLE)
    assert third.status_code == 200
    assert b"".join(second.streaming_content) == b"".join(third.streaming_content)
    assert exported() == 3


def test_one_that_is_broken_off_or_never_sent_keeps_no_place(one_connection):
    def begun():
        return sending.Download("numbers.csv", iter([b"1", b"2"]), "text/csv")

    for _ in range(sending.AT_ONCE + 1):
        answer = begun()
        assert next(iter(answer.streaming_content)) == b"1"
        answer.close()
        answer.close()  # gives nothing up twice
    held = [begun() for _ in range(sending.AT_ONCE)]
    with pytest.raises(sending.TooManyAtOnce):
        begun()
    held.clear()
    gc.collect()
    assert begun().status_code == 200


def test_a_small_one_is_waited_for(as_person, ada, monkeypatch):
    client = as_person(ada)
    held = [client.get(A_TABLE) for _ in range(sending.AT_ONCE)]
    monkeypatch.setattr(sending, "PATIENCE_S", 30)
    monkeypatch.setattr(sending, "_places", Freed(sending._places, held))
    assert client.get(A_TABLE).status_code == 200


class Freed:
    """Places of which one becomes free while somebody waits."""

    def __init__(self, places, held):
        self.places, self.held = places, held

    def acquire(self, timeout):
        assert not self.places.acquire(blocking=False)
        b"".join(self.held.pop().streaming_content)
        return self.places.acquire(timeout=timeout)

    def release(self):
        self.places.release()


def packed(client, path):
    answer = client.get(path, headers={"accept-encoding": "gzip, br"})
    return answer, answer.get("Content-Encoding") == "gzip"


def test_words_are_compressed(as_person, ada):
    client = as_person(ada)
    for path in ("/customers/", A_TABLE):
        answer, is_packed = packed(client, path)
        body = b"".join(answer.streaming_content) if answer.streaming else answer.content
        assert is_packed, path
        assert gzip.decompress(body)


def test_pictures_and_archives_are_not_compressed_twice(as_person, ada):
    photo = services.add_photo(counter_builders.booked(ada), pictures.photo(2000, 1500), by=ada)
    client = as_person(ada)
    answer, is_packed = packed(client, f"/photos/{photo.pk}/")
    assert not is_packed
    assert int(answer["Content-Length"]) == photo.file.size, "the browser knows how long it is"
    assert not packed(client, "/office/data/everything.zip")[1]
