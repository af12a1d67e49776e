"""Where somebody is signed in, and the letter for whoever forgot the password."""

import re
from datetime import datetime, timedelta

import pytest
from django.contrib.auth.tokens import PasswordResetTokenGenerator
from django.core import mail
from django.test import Client
from django.utils import timezone

from shop.lib import mail as seam
from shop.staff import letters
from shop.staff.models import Person, SignedIn
from tests import factories

pytestmark = pytest.mark.django_db
NEW = "cedar under spruce"
TABLET = "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 Safari/537.36"


def signed_in(person, agent=TABLET, address="192.0.2.9"):
    client = Client(headers={"User-Agent": agent}, REMOTE_ADDR=address)
    client.post("/sign-in/", {"username": person.username, "password": factories.PASSWORD})
    client.get("/you/")
    return client


def test_devices_are_listed_with_kind_place_and_time(ben):
    client = signed_in(ben)
    page = client.get("/you/").text
    assert "tablet <strong>(this one)</strong>" in page
    assert "192.0.2.9" in page
    assert client.session.session_key not in page


def test_one_device_is_ended_and_the_others_stay(ben):
    here, there = signed_in(ben), signed_in(ben, agent="Mozilla/5.0 (X11; Linux x86_64)")
    mark = SignedIn.objects.get(session_key=there.session.session_key).mark
    assert here.post(f"/you/devices/{mark}/out/").status_code == 302
    assert there.get("/you/").status_code == 302
    assert here.get("/you/").status_code == 200


def test_nobody_ends_anothers_device(ben, cleo):
    theirs = signed_in(cleo)
    mark = SignedIn.objects.get(session_key=theirs.session.session_key).mark
    assert signed_in(ben).post(f"/you/devices/{mark}/out/").status_code == 404
    assert theirs.get("/you/").status_code == 200


def test_all_others_at_once(ben):
    here, there, elsewhere = signed_in(ben), signed_in(ben), signed_in(ben)
    here.post("/you/devices/out/")
    assert [one.get("/you/").status_code for one in (here, there, elsewhere)] == [200, 302, 302]


def test_the_owner_signs_somebody_out_everywhere(ada, ben):
    theirs = signed_in(ben)
    owner = signed_in(ada)
    assert "192.0.2.9" in owner.get(f"/office/staff/{ben.pk}/").text
    owner.post(f"/office/staff/{ben.pk}/out/")
    assert theirs.get("/you/").status_code == 302
    assert owner.get("/you/").status_code == 200


def test_a_new_password_of_ones_own_ends_the_others(ben):
    here, there = signed_in(ben), signed_in(ben)
    sent = {"old_password": factories.PASSWORD, "new_password1": NEW, "new_password2": NEW}
    assert here.post("/password/", sent).status_code == 302
    assert [one.get("/you/").status_code for one in (here, there)] == [200, 302]


@pytest.fixture
def reachable(ben, settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    ben.email = "ben@example.com"
    ben.save(update_fields=["email"])
    return ben


def link_in_letter():
    return re.search(r"http://\S+(/new-password/\S+)", mail.outbox[-1].body)[1]


@pytest.mark.parametrize("who", ["ben", "BEN", "ben@example.com", " Ben@Example.com "])
def test_a_letter_with_a_link_to_a_new_password(client, reachable, who):
    assert "on its way" in client.post("/forgotten/", {"who": who}).text
    assert letters.send_waiting() == 1
    assert letters.send_waiting() == 0
    assert mail.outbox[0].to == ["Ben <ben@example.com>"]
    form = client.get(link_in_letter(), follow=True)
    client.post(form.request["PATH_INFO"], {"new_password1": NEW, "new_password2": NEW})
    assert client.post("/sign-in/", {"username": "ben", "password": NEW}).status_code == 302


@pytest.mark.parametrize(("minutes", "good"), [(59, True), (61, False)])
def test_a_link_is_good_for_an_hour(client, reachable, monkeypatch, minutes, good):
    client.post("/forgotten/", {"who": "ben"})
    letters.send_waiting()
    later = datetime.now() + timedelta(minutes=minutes)
    monkeypatch.setattr(PasswordResetTokenGenerator, "_now", lambda _: later)
    assert ("used up, or older" in client.get(link_in_letter(), follow=True).text) != good


def test_a_link_is_good_once(client, reachable):
    client.post("/forgotten/", {"who": "ben"})
    letters.send_waiting()
    link = link_in_letter()
    reachable.set_password(NEW)
    reachable.save(update_fields=["password"])
    assert "used up, or older" in client.get(link, follow=True).text


@pytest.mark.parametrize("who", ["nobody", "x@example.com", "cleo"])
def test_unknown_people_get_the_same_answer_and_no_letter(client, reachable, cleo, who):
    known = client.post("/forgotten/", {"who": "ben"})
    letters.send_waiting()
    unknown = client.post("/forgotten/", {"who": who})
    clean = re.compile(r'csrfmiddlewaretoken" value="\w+"|"X-CSRFToken": "\w+"')
    assert clean.sub("", known.text) == clean.sub("", unknown.text)
    letters.send_waiting()
    assert len(mail.outbox) == 1


def test_a_leaver_gets_none(client, reachable):
    client.post("/forgotten/", {"who": "ben"})
    Person.objects.update(is_active=False)
    assert letters.send_waiting() == 0


def test_a_server_that_is_away_is_tried_again_for_an_hour(client, reachable, monkeypatch):
    def away(*_):
        raise seam.NotNow("Away.")

    client.post("/forgotten/", {"who": "ben"})
    monkeypatch.setattr(seam, "send", away)
    assert letters.send_waiting() == letters.send_waiting() == 1
    Person.objects.update(reset_asked_at=timezone.now() - timedelta(hours=2))
    letters.send_waiting()
    assert letters.send_waiting() == 0


def test_asking_again_and_again_is_slowed(client, db):
    statuses = [client.post("/forgotten/", {"who": f"n{number}"}).status_code for number in range(6)]
    assert statuses == [200] * 5 + [429]


def test_an_empty_request_is_refused(client, db):
    assert client.post("/forgotten/", {"who": " "}).status_code == 422
