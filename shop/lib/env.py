"""Typed reading of the environment. Nonsense is refused loudly; secrets may come from a file.

An empty value stands for the default everywhere: a file of variables handed to a service sets those left blank, too.
"""

import ipaddress
import os
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured

TRUE = {"1", "true", "yes", "on"}
FALSE = {"0", "false", "no", "off"}


def _given(name):
    """What was written for `name`, or ''."""
    return os.environ.get(name, "").strip()


def text(name, default=""):
    """The value of `name`, or of the file that `name`_FILE points to."""
    path = os.environ.get(f"{name}_FILE")
    if path:
        try:
            return Path(path).read_text(encoding="utf-8").strip()
        except OSError as error:
            raise ImproperlyConfigured(f"{name}_FILE names {path}, which cannot be read: {error.strerror}.") from error
    return os.environ.get(name) or default  # as it stands: a password may begin or end with a space


def flag(name, *, default=False):
    """True or False; anything but a plain yes or no is refused."""
    value = _given(name)
    if not value:
        return default
    if value.lower() in TRUE:
        return True
    if value.lower() in FALSE:
        return False
    raise ImproperlyConfigured(f"{name} must be 1 or 0, not {value!r}.")


def whole(name, default):
    """A whole number of zero or more."""
    value = _given(name)
    if not value:
        return default
    if not value.isdecimal():
        raise ImproperlyConfigured(f"{name} must be a whole number, not {value!r}.")
    return int(value)


def words(name, default=()):
    """A comma-separated list, blanks dropped."""
    value = _given(name)
    if not value:
        return list(default)
    return [word.strip() for word in value.split(",") if word.strip()]


def address(name, default):
    """A machine's address in figures, of either kind; as one says it, `::1` and not `[::1]`."""
    value = _given(name) or default
    try:
        return str(ipaddress.ip_address(value))
    except ValueError as error:
        raise ImproperlyConfigured(f"{name} must be an address such as 192.0.2.7, not {value!r}.") from error


def database(*, file):
    """The address of the database: the one that was given, or that of a SQLite file."""
    return _given("DATABASE_URL") or f"sqlite:///{file}"


def folder(name, default):
    """An absolute path."""
    return Path(_given(name) or default).expanduser().resolve()
