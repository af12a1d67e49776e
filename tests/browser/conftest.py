"""A real Chromium. A console error, a failed script or a request that leaves the host fails the test."""

import os
from urllib.parse import urlsplit

import pytest
from django.core.cache import cache
from django.test import Client
from playwright.sync_api import sync_playwright

from shop.ground import system

# Playwright's own event loop would make Django refuse the database.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"
QUIET = [
    "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
TABLET = {"width": 1280, "height": 800}


@pytest.fixture(scope="session")
def chromium():
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=system.chromium(), args=QUIET)
        yield browser
        browser.close()


@pytest.fixture(autouse=True)
def nobody_has_tried(transactional_db):
    """All tests sign in from one address; what earlier ones tried is forgotten."""
    cache.clear()


class Watch:
    """What went wrong on the pages of one test. A test that cuts the connection says so: `forgive`."""

    def __init__(self):
        self.complaints, self.strangers, self.forgiven = [], [], ()

    def forgive(self, *words):
        self.forgiven += words

    def over(self, page):
        page.on("console", self._said)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("request", self._asked)

    def _said(self, message):
        if message.type == "error" and "favicon" not in (message.location or {}).get("url", ""):
            self.complaints.append(message.text)

    def _asked(self, request):
        parts = urlsplit(request.url)
        if parts.scheme in ("http", "https") and parts.hostname not in ("localhost", "127.0.0.1"):
            self.strangers.append(request.url)

    def check(self):
        assert self.strangers == []
        assert [one for one in self.complaints if not any(word in one for word in self.forgiven)] == []


@pytest.fixture
def watch():
    watcher = Watch()
    yield watcher
    watcher.check()


def cookies_of(person, address):
    """What a browser holds once this person has signed in: whose visit it is, and the token for forms."""
    visit = Client()
    visit.get("/sign-in/")
    visit.force_login(person)
    return [{"name": name, "value": cookie.value, "url": address} for name, cookie in visit.cookies.items()]


@pytest.fixture
def open_as(chromium, live_server, watch):
    """`open_as(person, path)` gives the page of a browser of their own, in which that person has signed in.

    The form for signing in is filled by hand in `test_shell.py`; here it would be two more pages for every test.
    """
    contexts = []

    def open_page(person, path="/", *, viewport=None, **options):
        context = chromium.new_context(viewport=viewport or TABLET, base_url=live_server.url, **options)
        contexts.append(context)
        context.add_cookies(cookies_of(person, live_server.url))
        page = context.new_page()
        watch.over(page)
        page.goto(path)
        return page

    yield open_page
    for context in contexts:
        context.close()
