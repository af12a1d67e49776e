"""A device left alone is locked, and the last person opens it again."""

from datetime import timedelta

import pytest
from django.contrib.auth.hashers import identify_hasher
from django.utils import timezone

from shop.staff import entry, services
from shop.staff.models import AuditEntry, SignedIn, Workshop
from tests import factories

pytestmark = pytest.mark.django_db
PIN = "8305"


@pytest.fixture
def tablet(client, ben):
    services.set_pin(ben, PIN)
    client.post("/sign-in/", {"username": "ben", "password": factories.PASSWORD})
    client.get("/orders/")
    return client


def left_alone(client, minutes=90, **changed):
    session = client.session
    session["seen"] = (timezone.now() - timedelta(minutes=minutes)).isoformat()
    for name, value in changed.items():
        session[name] = value
    session.save()


def test_in_use_it_stays_open(tablet):
    left_alone(tablet, minutes=50)
    assert tablet.get("/orders/").status_code == 200


def test_a_clock_that_was_put_back_leaves_no_device_open(tablet):
    left_alone(tablet, minutes=-90)
    assert tablet.get("/orders/").status_code == 302


def test_a_clock_that_was_put_back_lets_no_pin_hold_for_longer(tablet):
    ahead = (timezone.now() + timedelta(days=400)).isoformat()
    left_alone(tablet, password_at=ahead)
    assert tablet.post("/re-enter/", {"word": PIN}).status_code != 302
    assert tablet.post("/re-enter/", {"word": factories.PASSWORD})["Location"] == "/"


def test_left_alone_it_asks_who_it_is_and_goes_on_where_it_was(tablet):
    left_alone(tablet)
    locked = tablet.get("/orders/?q=Fell")
    assert locked["Location"] == "/re-enter/?next=%2Forders%2F%3Fq%3DFell"
    assert "Ben, is it you?" in tablet.get(locked["Location"]).text
    opened = tablet.post("/re-enter/", {"word": PIN, "next": "/orders/?q=Fell"})
    assert opened["Location"] == "/orders/?q=Fell"
    assert tablet.get("/orders/").status_code == 200


def test_opened_again_the_sign_in_goes_by_another_key(tablet):
    """Whoever saw the old one while the tablet lay about has nothing."""
    tablet.post("/lock/")
    before = tablet.session.session_key
    tablet.post("/re-enter/", {"word": PIN})
    assert tablet.session.session_key != before


def test_the_password_opens_it_too(tablet):
    tablet.post("/lock/")
    assert tablet.post("/re-enter/", {"word": factories.PASSWORD})["Location"] == "/"


def test_a_script_is_told_like_somebody_signed_out_and_changes_nothing(tablet):
    left_alone(tablet)
    for path in ("/bench/1/relief/save/", "/orders/26-0001/note/"):
        answer = tablet.post(path, {"text": "x"}, headers={"Accept": "application/json"})
        assert answer["Location"].startswith("/re-enter/")


def test_a_page_that_asks_by_itself_keeps_nothing_open(tablet):
    left_alone(tablet, minutes=50)
    before = tablet.session["seen"]
    tablet.get("/orders/", headers={"Accept": "application/json"})
    assert tablet.session["seen"] == before


def test_an_action_on_a_locked_device_leads_back_to_its_page(tablet):
    tablet.post("/lock/")
    answer = tablet.post("/orders/26-0001/note/", {}, headers={"Referer": "http://testserver/orders/26-0001/"})
    assert answer["Location"] == "/re-enter/?next=%2Forders%2F26-0001%2F"
    answer = tablet.post("/orders/26-0001/note/", {}, headers={"Referer": "https://example.com/evil/"})
    assert answer["Location"] == "/re-enter/?next=%2F"


def test_the_pin_holds_for_a_working_day_only(tablet):
    left_alone(tablet, began=(timezone.now() - timedelta(hours=20)).isoformat())
    assert tablet.post("/re-enter/", {"word": PIN}).status_code == 422
    assert tablet.post("/re-enter/", {"word": factories.PASSWORD}).status_code == 302
    tablet.post("/lock/")
    assert tablet.post("/re-enter/", {"word": PIN}).status_code == 302


def test_after_ten_wrong_ones_the_sign_in_ends(tablet):
    tablet.post("/lock/")
    for _ in range(entry.RE_ENTRY.free):
        assert tablet.post("/re-enter/", {"word": "0000"}).status_code == 422
    assert tablet.post("/re-enter/", {"word": PIN})["Location"] == "/sign-in/"
    assert not SignedIn.objects.filter(person__isnull=False).exists()


@pytest.mark.parametrize("to", ["https://example.com/", "//example.com", "javascript:alert(1)", "\\\\example.com"])
def test_it_never_leads_off_the_host(tablet, to):
    tablet.post("/lock/")
    assert tablet.post("/re-enter/", {"word": PIN, "next": to})["Location"] == "/"


def test_locking_by_hand_comes_back_to_the_same_page(tablet):
    answer = tablet.post("/lock/", headers={"Referer": "http://testserver/bench/"})
    assert answer["Location"] == "/re-enter/?next=%2Fbench%2F"


def test_somebody_else_signs_in_instead(tablet):
    tablet.post("/lock/")
    answer = tablet.post("/sign-out/", {"next": "/sign-in/?next=/bench/"})
    assert answer["Location"] == "/sign-in/?next=/bench/"


def test_a_workshop_that_never_locks(tablet):
    Workshop.objects.update(lock_after_minutes=0)
    left_alone(tablet, minutes=5000)
    assert tablet.get("/orders/").status_code == 200


@pytest.mark.parametrize("pin", ["123", "123456789", "12a4", "0000", "1234", "987654", "", "٤٤٤٢"])
def test_pins_that_are_none(as_person, ben, pin):
    answer = as_person(ben).post("/you/pin/", {"pin-pin": pin, "pin-password": factories.PASSWORD})
    assert answer.status_code == 422
    ben.refresh_from_db()
    assert ben.pin == ""


def test_a_pin_is_set_with_the_password_and_taken_away(as_person, ben):
    client = as_person(ben)
    assert client.post("/you/pin/", {"pin-pin": PIN, "pin-password": "wrong"}).status_code == 422
    assert client.post("/you/pin/", {"pin-pin": PIN, "pin-password": factories.PASSWORD}).status_code == 302
    ben.refresh_from_db()
    assert ben.has_pin(PIN)
    assert identify_hasher(ben.pin).verify(PIN, ben.pin)  # its hash: the figures themselves may chance to be in it
    client.post("/you/pin/", {"none": "1"})
    ben.refresh_from_db()
    assert not ben.has_pin("")


def test_guessing_at_ones_own_password_is_slowed(as_person, ben):
    client = as_person(ben)
    sent = {"pin-pin": PIN, "pin-password": "wrong"}
    statuses = [client.post("/you/pin/", sent).status_code for _ in range(entry.OWN_PASSWORD.free + 1)]
    assert statuses == [422] * entry.OWN_PASSWORD.free + [429]


def test_what_happened_is_on_record(tablet):
    tablet.post("/lock/")
    tablet.post("/re-enter/", {"word": "0000"})
    assert "A wrong PIN" in AuditEntry.objects.first().text
