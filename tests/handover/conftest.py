"""A mail server, and orders at hand."""

from datetime import timedelta

import pytest

from shop.lib.dates import today
from tests import handover_builders as build
from tests.smtp_server import Mailbox


@pytest.fixture
def mailbox(settings):
    """A real SMTP server that the app is set to send to."""
    server = Mailbox().start()
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", server.port
    settings.EMAIL_USE_TLS = settings.EMAIL_USE_SSL = False
    settings.EMAIL_TIMEOUT = 3
    settings.MAIL_IS_LOCAL = False
    yield server
    server.stop()


@pytest.fixture
def order(cleo, ben):
    """An order whose worksheet is signed off."""
    return build.checked(cleo, ben)


@pytest.fixture
def on(monkeypatch):
    """Pretend that it is so many days after the invoice was issued."""
    began = today()

    def set_to(days):
        day = began + timedelta(days=days)
        monkeypatch.setattr("shop.handover.dunning.today", lambda: day)

    return set_to
