"""Saving one reading against a bare Django view that writes one row, in the database that is set."""

import statistics
import time
import uuid
from contextlib import contextmanager

from django.contrib.auth.decorators import login_required
from django.db import connection, models
from django.http import HttpResponse
from django.test import Client, override_settings
from django.urls import path, reverse

HOST = "127.0.0.1"
# `startproject`'s own.
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]


class Row(models.Model):
    text = models.CharField(max_length=100)

    class Meta:
        app_label = "figures"
        managed = False
        db_table = "bare_row"

    def __str__(self):
        return self.text


@login_required
def write(request):
    Row.objects.create(text=request.POST["text"])
    return HttpResponse("written")


urlpatterns = [path("", write)]


@contextmanager
def bare_table():
    with connection.schema_editor() as editor:
        editor.create_model(Row)
    try:
        yield
    finally:
        with connection.schema_editor() as editor:
            editor.delete_model(Row)


def seconds_of(sheet, person, *, rounds=60):
    """(saving a reading, the bare view): medians of requests that take turns, so that both meet the same machine."""
    ours, bare = [], []
    client, other = _signed_in(person), _signed_in(person)
    # Asked for once: after a change of settings Django reads all addresses anew, which no server does between requests.
    address = reverse("reading-save", args=[sheet.pk, "relief"])
    with bare_table():
        for _ in range(rounds + 5):
            ours.append(_timed(lambda: _save(client, address)))
            with override_settings(ROOT_URLCONF=__name__, MIDDLEWARE=MIDDLEWARE):
                bare.append(_timed(lambda: other.post("/", {"text": "0.2"})))
    return statistics.median(ours[5:]), statistics.median(bare[5:])


def _signed_in(person):
    client = Client(SERVER_NAME=HOST)
    client.force_login(person)
    return client


def _save(client, address):
    return client.post(address, {
        "client_id": uuid.uuid4(), "stage": "bench", "key": "relief", "string": "", "raw": "0.2", "gauge": "feeler",
    })  # fmt: skip


def _timed(ask):
    began = time.perf_counter()
    answer = ask()
    took = time.perf_counter() - began
    assert answer.status_code == 200, answer.content[:300]
    return took
