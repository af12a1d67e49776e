"""Lets the services believe that it is another day, so that history is written by them and not forged."""

from contextlib import contextmanager
from unittest.mock import patch


@contextmanager
def at(moment):
    """Within it, `timezone.now()` is `moment`. Only the demo loader does this, in a process of its own."""
    with patch("django.utils.timezone.now", lambda: moment):
        yield
