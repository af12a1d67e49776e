"""A device on which somebody has signed in before: its tries are counted apart from everybody else's.

So whoever guesses, be it from the same network, takes no turn away from those who come in on their own tablet. The
cookie opens nothing: without it one only waits like a stranger. The practice is OWASP's, known as device cookies.
"""

import secrets
from datetime import timedelta

from django.conf import settings
from django.core import signing
from django.urls import reverse
from django.utils.crypto import salted_hmac

COOKIE = "known-device"
SALT = "shop.staff.known_device"
GOOD_FOR = timedelta(days=365)
MOST_PEOPLE = 20  # who share a tablet; the one who has not been there for longest is forgotten


def of(request, account):
    """The device's own mark if `account` has signed in on it before, otherwise None."""
    mark, people = _read(request)
    return mark if _shortened(account) in people else None


def remember(request, answer, account):
    """Let `answer` tell the device that `account` has signed in on it."""
    mark, people = _read(request)
    person = _shortened(account)
    people = [person, *(one for one in people if one != person)][:MOST_PEOPLE]
    answer.set_cookie(
        COOKIE, signing.dumps([mark or secrets.token_hex(12), *people], salt=SALT), max_age=GOOD_FOR, httponly=True,
        path=reverse("sign-in"), samesite="Strict", secure=settings.SESSION_COOKIE_SECURE,
    )  # fmt: skip


def _read(request):
    try:
        mark, *people = signing.loads(request.COOKIES.get(COOKIE, ""), salt=SALT, max_age=GOOD_FOR)
    except signing.BadSignature:
        return None, []
    return mark, people


def _shortened(account):
    """The account as the cookie holds it: nobody reads there who works here."""
    return salted_hmac(SALT, account).hexdigest()[:16]
