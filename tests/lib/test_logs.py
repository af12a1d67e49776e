"""The log: structured, found by reference, without people or secrets."""

import json
import logging

import pytest
from django.db import connection
from django.test import Client
from django.urls import get_resolver

from shop.lib import logs
from shop.people import views as people
from tests import factories


@pytest.fixture
def lines(monkeypatch):
    """What is logged, as the lines that stand in the file."""
    made, formatter = [], logs.Lines()

    class Keep(logging.Handler):
        def emit(self, record):
            made.append(formatter.format(record))

    keep, root = Keep(), logging.getLogger()
    root.addHandler(keep)
    yield made
    root.removeHandler(keep)


def breaks(monkeypatch):
    _ = get_resolver().url_patterns  # whatever takes this function by name has it before it is broken

    def fail(*_):
        raise ValueError("could not read 'Mara Fell' <mara@example.com> +44 1632 960123 as a name")

    monkeypatch.setattr(people.access, "customer", fail)


@pytest.mark.django_db
def test_an_error_page_shows_the_reference_that_is_in_the_log(ada, lines, monkeypatch):
    breaks(monkeypatch)
    client = Client(raise_request_exception=False)
    client.force_login(ada)
    answer = client.get("/customers/1/?q=Mara")
    reference = answer["X-Reference"]
    assert answer.status_code == 500
    assert f"<strong>{reference}</strong>" in answer.text
    kept = [json.loads(line) for line in lines]
    mine = [line for line in kept if line.get("reference") == reference]
    assert {"failed", "Internal Server Error"} <= {line["said"] for line in mine}
    assert any(line.get("error") == "ValueError" and "test_logs.py" in line["at_line"][-1] for line in mine)
    noted = next(line for line in mine if line["said"] == "failed")
    assert (noted["view"], noted["status"], noted["person"]) == ("customer", 500, ada.pk)


@pytest.mark.django_db(transaction=True)
def test_a_connection_is_kept_until_a_page_fails(ada, monkeypatch):
    client = Client(raise_request_exception=False)
    client.force_login(ada)

    def ask():
        connection.close_if_unusable_or_obsolete()  # what Django does before and after each request of the web server
        status = client.get("/customers/1/").status_code
        connection.close_if_unusable_or_obsolete()
        return status, connection.connection

    status, first = ask()
    assert (status, first is not None) == (404, True)
    assert ask() == (404, first)
    breaks(monkeypatch)
    assert ask() == (500, None)


@pytest.mark.django_db
def test_nothing_about_people_is_logged(ada, lines, monkeypatch):
    breaks(monkeypatch)
    client = Client(raise_request_exception=False)
    client.post("/sign-in/", {"username": "ada", "password": factories.PASSWORD})
    client.get("/customers/1/?q=Mara")
    whole = "\n".join(lines)
    assert "could not read" in whole
    for secret in ("Mara", "Fell", "example.com", "960123", factories.PASSWORD, client.cookies["sessionid"].value):
        assert secret not in whole


@pytest.mark.django_db
def test_slow_requests_are_noted_by_view_and_quick_ones_are_not(ada, lines, settings):
    client = Client()
    client.force_login(ada)
    client.get("/customers/?q=Mara")
    assert lines == []
    settings.SLOW_REQUEST_MS = 0
    client.get("/customers/?q=Mara")
    noted = json.loads(lines[-1])
    assert (noted["said"], noted["view"], noted["level"]) == ("slow", "customers", "WARNING")
    assert noted["ms"] >= 0


@pytest.mark.parametrize(
    ("text", "kept"),
    [("bad value 'Mara Fell'", "bad value …"), ("to mara.fell@example.com now", "to … now"),
     ("call +44 1632 960123 back", "call … back"), ("/find/?q=Mara&page=2 slow", "/find/?…&… slow"),
     ("12 rows in 3.5 s", "12 rows in 3.5 s")],
)  # fmt: skip
def test_what_is_left_out(text, kept):
    assert logs.without_people(text) == kept


def test_references_can_be_said_aloud_and_differ():
    made = {logs.new_reference() for _ in range(200)}
    assert len(made) == 200
    assert not set("01OI") & set("".join(made))
