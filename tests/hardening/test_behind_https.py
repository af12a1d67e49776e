"""What answers carry once the shop is reached by HTTPS: asked of the real settings, in a process of their own."""

import json

import pytest

from tests.processes import ShopOnDisk

ASK = """
import json
from django.conf import settings
settings.STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
from django.test import Client
def told(answer):
    return {"status": answer.status_code, **answer.headers, "cookies": answer.cookies.output(header="")}
https = {"X-Forwarded-Proto": "https", "Host": "shop.example.com"}
print(json.dumps({
    "secure": told(Client(enforce_csrf_checks=True).get("/sign-in/", headers=https)),
    "plain": told(Client().get("/orders/?page=2", headers={"Host": "shop.example.com"})),
    "elsewhere": told(Client().get("/sign-in/", headers=https | {"Host": "example.com"})),
    "lost": told(Client().get("/nowhere/", headers=https)),
    "static": told(Client().get("/static/img/mark.svg", headers=https)),
}))
"""


@pytest.fixture(scope="module")
def answers(tmp_path_factory):
    folder = tmp_path_factory.mktemp("https")
    (folder / "static" / "img").mkdir(parents=True)
    (folder / "static" / "img" / "mark.svg").write_text("<svg/>")
    shop = ShopOnDisk(
        folder, on_server=False,
        WORKSHOP_BEHIND_HTTPS="1", WORKSHOP_PUBLIC_ADDRESS="https://shop.example.com",
    )  # fmt: skip
    return json.loads(shop.say(ASK).splitlines()[-1])


def test_browsers_stay_with_https(answers):
    """RFC 6797; a year, as the lists of browsers ask."""
    assert answers["secure"]["Strict-Transport-Security"] == "max-age=31536000; includeSubDomains; preload"


def test_plain_http_is_sent_on(answers):
    assert answers["plain"]["status"] == 301
    assert answers["plain"]["Location"] == "https://shop.example.com/orders/?page=2"


def test_cookies_travel_by_https_alone(answers):
    (cookie,) = answers["secure"]["cookies"].splitlines()
    assert {"Secure", "HttpOnly", "SameSite=Strict"} <= {part.strip() for part in cookie.split(";")}


def test_a_strange_host_is_refused(answers):
    assert answers["elsewhere"]["status"] == 400


@pytest.mark.parametrize("which", ["secure", "lost", "elsewhere", "static"])
def test_every_answer_has_its_policy(answers, which):
    assert "default-src 'none'" in answers[which]["Content-Security-Policy"]
    assert answers["static"]["status"] == 200
    assert answers[which]["X-Content-Type-Options"] == "nosniff"
