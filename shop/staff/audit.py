"""Writes down what has to stay known: who came in, what was exported or deleted, money, and who may do what.

Who is at work and from where is set once for a request, so that services need not be told.
"""

from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass

from django.utils import timezone

from shop.lib.mail import one_line
from shop.lib.throttle import network_of
from shop.staff.models import AuditEntry, AuditKind

LONGEST = 400
__all__ = ["AuditKind", "at_work", "write"]


@dataclass(frozen=True)
class Hand:
    request: object = None

    @property
    def person(self):
        user = getattr(self.request, "user", None)
        return user if user is not None and user.is_authenticated else None

    @property
    def address(self):
        return network_of(self.request)[:45] if self.request is not None else ""


_hand = ContextVar("hand", default=Hand())  # noqa: B039 (it cannot be changed)


@contextmanager
def at_work(request):
    """Within this block what is written down was done by this request."""
    token = _hand.set(Hand(request))
    try:
        yield
    finally:
        _hand.reset(token)


def write(kind, text, *, by=None):
    """One entry, in the caller's transaction; `by` when it is not whoever is signed in."""
    hand = _hand.get()
    return AuditEntry.objects.create(
        at=timezone.now(), kind=kind, by=by or hand.person, address=hand.address, text=one_line(text, LONGEST)
    )
