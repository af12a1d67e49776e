"""What every answer carries and every unsafe request needs, made from the table of addresses."""

import pytest
from django.test import Client
from django.urls import resolve

from shop.staff.roles import Role
from tests import factories
from tests.every_address import WHO, address_of, named_addresses

pytestmark = pytest.mark.django_db
THINGS = {"number": "26-9999"}
ADDRESSES = sorted(named_addresses().items())


@pytest.fixture
def owner(ada):
    client = Client(enforce_csrf_checks=True)
    client.force_login(ada)
    return client


@pytest.mark.parametrize("method", ["post", "put", "patch", "delete"])
def test_no_unsafe_method_works_without_a_token(owner, method):
    """403 for the missing token, or 405 where the method is not known; nothing in between."""
    taken = {}
    for name, arguments in ADDRESSES:
        answer = getattr(owner, method)(address_of(name, arguments, THINGS))
        if answer.status_code not in (403, 405):
            taken[name] = answer.status_code
    assert taken == {}


def test_a_token_of_somebody_else_does_not_do(owner, ben):
    other = Client()
    other.force_login(ben)
    token = other.get("/you/").text.split('name="csrfmiddlewaretoken" value="')[1].split('"')[0]
    assert owner.post("/you/pin/", {"none": "1", "csrfmiddlewaretoken": token}).status_code == 403


# A mail is shown as it is written, styles and all, within our own page, in a sandbox that runs and sends nothing.
MAILS_SHOWN = {"mail-html", "mail-words-look"}
SANDBOX = {"default-src 'none'", "style-src 'unsafe-inline'", "frame-ancestors 'self'", "sandbox"}


def test_every_page_says_what_a_browser_may_do(owner):
    for name, arguments in ADDRESSES:
        answer = owner.get(address_of(name, arguments, THINGS))
        policy = {one.strip() for one in answer["Content-Security-Policy"].split(";")}
        if name in MAILS_SHOWN and answer.status_code == 200:
            assert policy >= SANDBOX, name
            assert [one for one in policy if "unsafe" in one] == ["style-src 'unsafe-inline'"], name
            assert answer["X-Frame-Options"] == "SAMEORIGIN", name
        else:
            assert policy >= {"default-src 'none'", "frame-ancestors 'none'", "base-uri 'none'"}, name
            assert not any("unsafe" in one for one in policy), name
            assert answer["X-Frame-Options"] == "DENY", name
        assert answer["X-Content-Type-Options"] == "nosniff", name
        assert answer["Referrer-Policy"] == "same-origin", name


def test_no_view_is_exempt_from_the_token():
    exempt = [
        name for name, arguments in ADDRESSES
        if getattr(resolve(address_of(name, arguments, THINGS)).func, "csrf_exempt", False)
    ]  # fmt: skip
    assert exempt == []


def test_cookies_are_out_of_reach_of_scripts_and_other_sites(client, ben):
    client.get("/sign-in/")
    client.post("/sign-in/", {"username": "ben", "password": factories.PASSWORD})
    session, token = client.cookies["sessionid"], client.cookies["csrftoken"]
    assert (session["httponly"], session["samesite"]) == (True, "Lax")
    assert (token["httponly"], token["samesite"]) == (True, "Strict")


@pytest.mark.parametrize("host", ["example.com", "localhost.example.com", "127.0.0.1.example.com", "a b"])
def test_a_strange_host_is_refused(client, host):
    assert client.get("/sign-in/", headers={"Host": host}).status_code == 400


def test_the_host_of_a_request_stands_in_no_letter(client, ben, settings):
    assert client.post("/forgotten/", {"who": "ben"}, headers={"X-Forwarded-Host": "example.com"}).status_code == 200
    assert settings.USE_X_FORWARDED_HOST is False


@pytest.mark.parametrize(
    "next_", ["https://example.com", "//example.com", "///example.com", "\\\\example.com", "/\\example.com",
              "http:example.com", "javascript:alert(1)", "\thttps://example.com", "https:/example.com"],
)  # fmt: skip
def test_nothing_leads_off_the_host(client, ben, next_):
    answer = client.post("/sign-in/", {"username": "ben", "password": factories.PASSWORD, "next": next_})
    assert answer["Location"] == "/"
    out = client.post("/sign-out/", {"next": next_})
    assert out["Location"] in ("/sign-in/", "/sign-out/")


def test_what_no_form_shows_cannot_be_set(as_person, ada, ben):
    """Mass assignment: fields of the row that are no fields of the form."""
    more = {"is_superuser": "on", "is_staff": "on", "pin": "x", "username": "root", "id": "1"}
    changed = {"shown_name": "Ben", "role": "bench", "is_active": "on"} | more
    as_person(ada).post(f"/office/staff/{ben.pk}/", changed)
    ben.refresh_from_db()
    assert (ben.is_superuser, ben.is_staff, ben.pin, ben.username) == (False, False, "", "ben")


@pytest.mark.parametrize("role", [Role.BENCH, Role.COUNTER])
def test_nobody_raises_themselves(client, ada, role):
    somebody = factories.person("somebody", role)
    client.force_login(somebody)
    raised = {"shown_name": "S", "role": "owner", "is_active": "on"}
    assert client.post(f"/office/staff/{somebody.pk}/", raised).status_code == 403
    somebody.refresh_from_db()
    assert somebody.role == role


def test_numbers_of_things_that_are_not_there_tell_nothing(as_person, cleo):
    """IDOR by guessing: what is not there, and what never was, answer alike."""
    client, told = as_person(cleo), []
    for name, arguments in ADDRESSES:
        if "pk" in arguments and name in WHO and "C" in WHO[name]:
            path = address_of(name, arguments, THINGS)
            told += [(name, code) for code in (client.get(path).status_code,) if code not in (404, 405)]
    assert told == []


def test_an_unknown_account_takes_as_long_as_a_known_one(client, ben, settings, monkeypatch):
    """The same work is done for both: one hash each. Counted, since a clock would make the test a matter of luck."""
    hashed = []
    hasher = "django.contrib.auth.hashers.MD5PasswordHasher.encode"
    monkeypatch.setattr(hasher, lambda self, *args: hashed.append(1) or "md5$salt$x")
    counts = []
    for name in ("ben", "nobody"):
        hashed.clear()
        client.post("/sign-in/", {"username": name, "password": "wrong"})
        counts.append(len(hashed))
    assert counts[0] == counts[1] == 1
