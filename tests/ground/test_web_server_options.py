"""What a client says of itself counts only where a proxy stands before us."""

import io

import pytest
from django.core.exceptions import ImproperlyConfigured
from waitress.adjustments import Adjustments
from waitress.proxy_headers import proxy_headers_middleware

from shop import serve
from shop.lib import env


def seen_by_the_app(said, options, peer="127.0.0.1"):
    """The address and the scheme that the app is told, for a request with these headers."""
    chosen = Adjustments(**options)
    seen = {}

    def app(environ, start_response):
        seen.update(environ)
        return []

    wrapped = proxy_headers_middleware(
        app,
        trusted_proxy=chosen.trusted_proxy,
        trusted_proxy_count=chosen.trusted_proxy_count,
        trusted_proxy_headers=chosen.trusted_proxy_headers,
        clear_untrusted=chosen.clear_untrusted_proxy_headers,
    )
    headers = {f"HTTP_{name.upper().replace('-', '_')}": value for name, value in said.items()}
    wrapped({"REMOTE_ADDR": peer, "wsgi.url_scheme": "http", "wsgi.errors": io.StringIO(), "REMOTE_HOST": peer,
             "SERVER_PORT": "8000", "SERVER_NAME": "x", **headers}, lambda *_: None)  # fmt: skip
    return seen["REMOTE_ADDR"], seen["wsgi.url_scheme"], "HTTP_X_FORWARDED_FOR" in seen


SAID = {"X-Forwarded-For": "198.51.100.1, 203.0.113.9", "X-Forwarded-Proto": "https"}


def test_without_a_proxy_nobody_is_believed(settings):
    settings.BEHIND_HTTPS = False
    assert seen_by_the_app(SAID, serve.options()) == ("127.0.0.1", "http", False)


def test_the_proxys_word_counts_and_no_further_one(settings):
    settings.BEHIND_HTTPS = True
    address, scheme, _ = seen_by_the_app(SAID, serve.options())
    assert (address, scheme) == ("203.0.113.9", "https")


def test_a_stranger_is_no_proxy(settings):
    settings.BEHIND_HTTPS = True
    assert seen_by_the_app(SAID, serve.options(), peer="192.0.2.5") == ("192.0.2.5", "http", False)


def test_the_proxy_may_be_another_machine(settings):
    settings.BEHIND_HTTPS, settings.PROXY = True, "192.0.2.5"
    assert seen_by_the_app(SAID, serve.options(), peer="192.0.2.5")[:2] == ("203.0.113.9", "https")
    assert seen_by_the_app(SAID, serve.options())[:2] == ("127.0.0.1", "http")


@pytest.mark.parametrize("said", ["proxy.example.com", "192.0.2.0/24", "*"])
def test_a_proxy_is_named_in_figures(monkeypatch, said):
    monkeypatch.setenv("WORKSHOP_PROXY", said)
    with pytest.raises(ImproperlyConfigured, match="WORKSHOP_PROXY must be an address"):
        env.address("WORKSHOP_PROXY", "127.0.0.1")


@pytest.mark.parametrize("behind_https", [True, False])
def test_the_server_does_not_name_itself(settings, behind_https):
    settings.BEHIND_HTTPS = behind_https
    assert Adjustments(**serve.options()).ident is None
