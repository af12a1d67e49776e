"""Signing in and out."""

import pytest
from django.test import Client

from shop.staff.models import SignedIn
from tests import factories

pytestmark = pytest.mark.django_db


def sign_in(client, username, password=factories.PASSWORD, **extra):
    return client.post("/sign-in/", {"username": username, "password": password, **extra})


def test_right_password_lets_in(client, ben):
    assert sign_in(client, "ben").status_code == 302
    assert client.get("/password/").status_code == 200


def test_a_key_from_before_opens_nothing_afterwards(client, ben):
    """Session fixation: somebody laid a known key on this device, and waits until it is signed in."""
    laid = client.session
    laid["seen"] = None
    laid.save()
    client.cookies["sessionid"] = laid.session_key
    sign_in(client, "ben")
    assert client.cookies["sessionid"].value != laid.session_key
    other = Client()
    other.cookies["sessionid"] = laid.session_key
    assert other.get("/password/").status_code == 302


@pytest.mark.parametrize(("username", "password"), [("ben", "wrong"), ("nobody", "wrong"), ("", "")])
def test_wrong_and_unknown_say_the_same_and_keep_the_name(client, ben, username, password):
    answer = sign_in(client, username, password)
    assert answer.status_code == 422
    assert "do not belong together" in answer.text
    assert f'value="{username}"' in answer.text


def test_somebody_who_left_is_kept_out(client, ben):
    ben.is_active = False
    ben.save(update_fields=["is_active"])
    assert sign_in(client, "ben").status_code == 422


def test_it_goes_on_to_where_one_was_going(client, ben):
    assert sign_in(client, "ben", next="/bench/")["Location"] == "/bench/"


@pytest.mark.parametrize("elsewhere", ["https://example.com/", "//example.com/", "javascript:alert(1)"])
def test_it_never_leads_off_the_host(client, ben, elsewhere):
    assert sign_in(client, "ben", next=elsewhere)["Location"] == "/"


def test_signing_out_is_a_post(client, ben):
    sign_in(client, "ben")
    assert client.get("/sign-out/").status_code == 405
    client.post("/sign-out/")
    assert not SignedIn.objects.exists()
    assert client.get("/password/").status_code == 302
