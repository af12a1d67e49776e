"""Guessing at passwords is slowed down; a shop is never locked out."""

import pytest

from shop.staff import entry
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
