"""Typed reading of the environment. Nonsense is refused loudly; secrets may come from a file."""

import ipaddress
import os
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured

TRUE = {"1", "true", "yes", "on"}
FALSE = {"0", "false", "no", "off", ""}


def text(name, default=""):
    """The value of `name`, or of the file that `name`_FILE points to."""
    path = os.environ.get(f"{name}_FILE")
    if path:
        try:
            return Path(path).read_text(encoding="utf-8").strip()
        except OSError as error:
            raise ImproperlyConfigured(f"{name}_FILE names {path}, which cannot be read: {error.strerror}.") from error
    return os.environ.get(name, default)


def flag(name, *, default=False):
    """True or False; anything but a plain yes or no is refused."""
    value = os.environ.get(name)
    if value is None:
        return default
    if value.strip().lower() in TRUE:
        return True
    if value.strip().lower() in FALSE:
        return False
    raise ImproperlyConfigured(f"{name} must be 1 or 0, not {value!r}.")


def whole(name, default):
    """A whole number of zero or more."""
    value = os.environ.get(name)
    if value is None or value.strip() == "":
        return default
    if not value.strip().isdecimal():
        raise ImproperlyConfigured(f"{name} must be a whole number, not {value!r}.")
    return int(value)


def words(name, default=()):
    """A comma-separated list, blanks dropped."""
    value = os.environ.get(name)
    if value is None:
        return list(default)
    return [word.strip() for word in value.split(",") if word.strip()]


def address(name, default):
    """A machine's address in figures, of either kind; as one says it, `::1` and not `[::1]`."""
    value = (os.environ.get(name) or default).strip()
    try:
        return str(ipaddress.ip_address(value))
    except ValueError as error:
        raise ImproperlyConfigured(f"{name} must be an address such as 192.0.2.7, not {value!r}.") from error


def folder(name, default):
    """An absolute path."""
    return Path(os.environ.get(name) or default).expanduser().resolve()
