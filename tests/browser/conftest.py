"""A real Chromium. A console error, a failed script or a request that leaves the host fails the test."""

import os
from urllib.parse import urlsplit

import pytest
from django.core.cache import cache
from playwright.sync_api import sync_playwright

from tests import factories

# Playwright's own event loop would make Django refuse the database.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"
CHROMIUM = "/usr/bin/chromium"
QUIET = [
    "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
TABLET = {"width": 1280, "height": 800}


@pytest.fixture(scope="session")
def chromium():
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
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


@pytest.fixture
def open_as(chromium, live_server, watch):
    """`open_as(person, path)` signs a person in on a browser of their own and gives its page."""
    contexts = []

    def open_page(person, path="/", *, viewport=None, **options):
        context = chromium.new_context(viewport=viewport or TABLET, base_url=live_server.url, **options)
        contexts.append(context)
        page = context.new_page()
        watch.over(page)
        page.goto("/sign-in/")
        page.fill("input[name=username]", person.username)
        page.fill("input[name=password]", factories.PASSWORD)
        page.press("input[name=password]", "Enter")
        page.wait_for_url(lambda url: "/sign-in/" not in url)
        page.goto(path)
        return page

    yield open_page
    for context in contexts:
        context.close()
