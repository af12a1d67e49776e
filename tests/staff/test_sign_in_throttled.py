"""Guessing at passwords is slowed down; a shop is never locked out."""

import pytest
from django.core import signing
from django.test import Client

from shop.staff import entry, known_device
from tests import factories

pytestmark = pytest.mark.django_db


def knock(client, username="ben", password="wrong", address="192.0.2.1"):
    return client.post("/sign-in/", {"username": username, "password": password}, REMOTE_ADDR=address)


@pytest.fixture
def guessed(client, ben):
    for _ in range(entry.ACCOUNT.free):
        assert knock(client).status_code == 422
    return client


def test_after_some_guesses_the_next_waits_and_is_told_so(guessed):
    answer = knock(guessed)
    assert answer.status_code == 429
    assert "too many tries. Wait 2 seconds" in answer.text
    assert answer["Retry-After"] == "2"
    assert 'value="ben"' in answer.text


def test_even_the_right_password_waits(guessed):
    assert knock(guessed, password=factories.PASSWORD).status_code == 429


def test_other_people_and_other_places_come_in(guessed, ada):
    assert knock(guessed, "ada", factories.PASSWORD).status_code == 302
    guessed.logout()
    assert knock(guessed, password=factories.PASSWORD, address="192.0.2.2").status_code == 302


@pytest.mark.parametrize("spelling", ["BEN", " ben ", "Ben"])
def test_other_spellings_are_the_same_account(guessed, spelling):
    assert knock(guessed, spelling).status_code == 429


def test_an_unknown_account_is_slowed_just_the_same(client, db):
    statuses = [knock(client, "nobody").status_code for _ in range(6)]
    assert statuses == [422] * 5 + [429]


def test_coming_in_forgets_the_slips(client, ben):
    for _ in range(3):
        knock(client)
        knock(client)
        assert knock(client, password=factories.PASSWORD).status_code == 302
        client.logout()


def test_guessing_at_many_accounts_from_one_place_is_slowed_for_seconds_only(client, db):
    statuses = [knock(client, f"name-{number}").status_code for number in range(entry.PLACE.free + 1)]
    assert statuses[-1] == 429
    assert 429 not in statuses[:-1]
    assert entry.PLACE.longest_wait_s <= 30


def test_signing_in_without_any_field_is_no_error(client, db):
    assert client.post("/sign-in/", {}).status_code == 422


def leave(client):
    """As a browser does it, which keeps its other cookies."""
    assert client.post("/sign-out/").status_code == 302


@pytest.fixture
def tablet(client, ben):
    """Signed in once, and out again."""
    assert knock(client, password=factories.PASSWORD).status_code == 302
    leave(client)
    return client


def test_somebody_else_who_guesses_takes_no_turn_from_a_known_device(tablet):
    stranger = Client()
    for number in range(entry.PLACE.free + 1):
        knock(stranger, f"name-{number}")
    for _ in range(entry.ACCOUNT.free + 1):
        knock(stranger)
    assert knock(stranger, password=factories.PASSWORD).status_code == 429
    assert knock(tablet, password=factories.PASSWORD).status_code == 302


def test_a_known_device_is_slowed_for_its_own_guesses(tablet):
    statuses = [knock(tablet).status_code for _ in range(entry.ACCOUNT.free + 1)]
    assert statuses == [422] * entry.ACCOUNT.free + [429]


def test_a_device_is_known_for_those_who_signed_in_on_it_only(tablet, ada):
    statuses = [knock(tablet, "ada").status_code for _ in range(entry.ACCOUNT.free + 1)]
    assert statuses[-1] == 429
    assert knock(Client(), "ada", factories.PASSWORD).status_code == 429


def test_several_people_share_a_tablet(tablet, ada):
    assert knock(tablet, "ada", factories.PASSWORD).status_code == 302
    leave(tablet)
    stranger = Client()
    for name in ("ada", "ben") * (entry.ACCOUNT.free + 1):
        knock(stranger, name)
    for name in ("ada", "ben"):
        assert knock(stranger, name, factories.PASSWORD).status_code == 429
        assert knock(tablet, name, factories.PASSWORD).status_code == 302
        leave(tablet)


@pytest.mark.parametrize("spoil", [lambda said: said[:-1] + ("a" if said[-1] != "a" else "b"), lambda said: "", len])
def test_a_made_up_cookie_makes_no_device_known(tablet, spoil):
    stranger = Client()
    for _ in range(entry.ACCOUNT.free + 1):
        knock(stranger)
    tablet.cookies[known_device.COOKIE] = spoil(tablet.cookies[known_device.COOKIE].value)
    assert knock(tablet, password=factories.PASSWORD).status_code == 429


def test_the_cookie_says_nothing_and_goes_nowhere_else(tablet):
    cookie = tablet.cookies[known_device.COOKIE]
    assert (cookie["httponly"], cookie["samesite"], cookie["path"]) == (True, "Strict", "/sign-in/")
    assert "ben" not in str(signing.loads(cookie.value, salt=known_device.SALT))
