"""The second factor: codes of the telephone (RFC 6238), and codes on paper."""

import re
import time
from unittest.mock import Mock
from urllib.parse import parse_qs, unquote, urlsplit

import pytest
from django.core.management import CommandError, call_command
from django_otp.oath import totp
from django_otp.plugins.otp_static.models import StaticToken
from django_otp.plugins.otp_totp.models import TOTPDevice

from shop.staff import codes
from shop.staff.models import Workshop
from tests import factories

pytestmark = pytest.mark.django_db
RFC_6238_KEY = b"12345678901234567890"  # RFC 6238, appendix B


def code_now(device, ahead=0):
    return f"{totp(device.bin_key, t0=-30 * ahead):06d}"


def set_up(client, person):
    """Set the second factor up as its page asks; the codes on paper come back."""
    client.force_login(person)
    client.get("/you/second-factor/")
    device = codes.telephone(person, client.session["telephone"])
    answer = client.post("/you/second-factor/", {"code": code_now(device), "password": factories.PASSWORD})
    assert answer.status_code == 200
    return re.findall(r"<li><code>([A-Z0-9-]+)</code>", answer.text)


@pytest.fixture
def paper(client, ada):
    given = set_up(client, ada)
    client.logout()
    return given


def half_way(client):
    answer = client.post("/sign-in/", {"username": "ada", "password": factories.PASSWORD, "next": "/orders/"})
    assert answer["Location"] == "/sign-in/code/"
    assert client.get("/you/").status_code == 302  # not in yet
    return client


@pytest.mark.parametrize(
    ("seconds", "code"),
    # RFC 6238, appendix B, SHA-1, the last six of its eight figures; read from the standard.
    [(59, 287082), (1111111109, 81804), (1111111111, 50471), (1234567890, 5924), (2000000000, 279037)],
)
def test_codes_are_those_of_the_standard(ada, monkeypatch, seconds, code):
    monkeypatch.setattr(time, "time", lambda: seconds)
    assert codes.telephone(ada, RFC_6238_KEY.hex()).verify_token(code)


def test_the_picture_says_the_same_secret_as_the_words(ada):
    device = codes.telephone(ada, RFC_6238_KEY.hex())
    assert codes.secret_of(device) == "GEZD GNBV GY3T QOJQ GEZD GNBV GY3T QOJQ"


def test_signing_in_asks_for_the_code_and_goes_on(client, ada, paper):
    device = TOTPDevice.objects.get()
    answer = half_way(client).post("/sign-in/code/", {"code": code_now(device, ahead=1)})
    assert answer["Location"] == "/orders/"
    assert client.get("/you/").status_code == 200


def test_the_code_changes_the_key_of_the_visit(client, ada, paper):
    key = half_way(client).cookies["sessionid"].value
    client.post("/sign-in/code/", {"code": code_now(TOTPDevice.objects.get(), ahead=1)})
    assert client.cookies["sessionid"].value != key


def test_a_code_is_good_once(client, ada, paper):
    code = code_now(TOTPDevice.objects.get(), ahead=1)
    half_way(client).post("/sign-in/code/", {"code": code})
    client.logout()
    assert half_way(client).post("/sign-in/code/", {"code": code}).status_code == 422


def test_a_code_on_paper_is_good_once_however_it_is_written(client, ada, paper):
    written = paper[3].lower().replace("-", " ")
    assert half_way(client).post("/sign-in/code/", {"code": written}).status_code == 302
    client.logout()
    assert half_way(client).post("/sign-in/code/", {"code": paper[3]}).status_code == 422
    assert codes.recovery_codes_left(ada) == 9


def test_ten_different_codes_and_none_kept_in_clear(ada, paper):
    assert len(set(paper)) == 10
    kept = set(StaticToken.objects.values_list("token", flat=True))
    assert not kept & {code.replace("-", "") for code in paper}


def test_guessing_at_the_code_is_slowed(client, ada, paper):
    half_way(client)
    statuses = [client.post("/sign-in/code/", {"code": f"{n:06d}"}).status_code for n in range(codes.TRIES.free + 1)]
    assert statuses == [422] * codes.TRIES.free + [429]


def test_without_the_first_half_there_is_no_second(client, ada, paper):
    assert client.get("/sign-in/code/")["Location"] == "/sign-in/"
    half_way(client)
    session = client.session
    session["half"] = {**session["half"], "at": time.time() - 3600}
    session.save()
    assert client.post("/sign-in/code/", {"code": paper[0]})["Location"] == "/sign-in/"


def test_whoever_left_meanwhile_stays_out(client, ada, paper):
    half_way(client)
    ada.is_active = False
    ada.save(update_fields=["is_active"])
    assert client.post("/sign-in/code/", {"code": paper[0]}).status_code == 422


@pytest.mark.parametrize(("code", "password"), [("000000", factories.PASSWORD), ("", factories.PASSWORD)])
def test_a_wrong_code_sets_nothing_up(client, ada, code, password):
    client.force_login(ada)
    answer = client.post("/you/second-factor/", {"code": code, "password": password})
    assert answer.status_code == 422
    assert not codes.has_codes(ada)


def test_setting_up_asks_for_the_password(client, ada):
    client.force_login(ada)
    client.get("/you/second-factor/")
    device = codes.telephone(ada, client.session["telephone"])
    answer = client.post("/you/second-factor/", {"code": code_now(device), "password": "wrong"})
    assert (answer.status_code, codes.has_codes(ada)) == (422, False)
    assert "This is not your password." in answer.text


def test_new_codes_make_the_old_void_and_doing_without_asks_nothing_more(client, ada):
    given = set_up(client, ada)
    answer = client.post("/you/second-factor/codes/", {"codes-password": factories.PASSWORD})
    assert answer.status_code == 200
    assert not codes.is_right(ada, given[0])
    assert client.post("/you/second-factor/drop/", {"codes-password": "wrong"}).status_code == 422
    client.post("/you/second-factor/drop/", {"codes-password": factories.PASSWORD})
    client.logout()
    assert client.post("/sign-in/", {"username": "ada", "password": factories.PASSWORD})["Location"] == "/"


def test_where_owners_have_to_nothing_else_opens_before(client, ada, ben):
    Workshop.here()
    Workshop.objects.update(owners_use_codes=True)
    client.force_login(ada)
    assert client.get("/orders/")["Location"] == "/you/second-factor/"
    set_up(client, ada)
    assert client.get("/orders/").status_code == 200
    client.force_login(ben)
    assert client.get("/orders/").status_code == 200


def test_another_owner_or_the_machine_itself_helps(client, ada, paper):
    olga = factories.person("olga", "owner")
    client.force_login(olga)
    client.post(f"/office/staff/{ada.pk}/codes/drop/")
    assert not codes.has_codes(ada)
    set_up(client, ada)
    call_command("no_codes", "ADA")
    assert not codes.has_codes(ada)
    with pytest.raises(CommandError, match="Nobody signs in as zoe"):
        call_command("no_codes", "zoe")


def test_the_picture_is_what_the_key_uri_form_says(ada, monkeypatch):
    said = []
    monkeypatch.setattr(codes.segno, "make", lambda text, **_: said.append(text) or Mock())
    codes.picture_of(codes.telephone(ada, RFC_6238_KEY.hex()), workshop=Workshop(name="Bow & Fret"))
    parts = urlsplit(said[0])
    assert (parts.scheme, parts.netloc, unquote(parts.path)) == ("otpauth", "totp", "/Bow & Fret:ada")
    assert parse_qs(parts.query) == {"secret": ["GEZDGNBVGY3TQOJQ" * 2], "issuer": ["Bow & Fret"]}
