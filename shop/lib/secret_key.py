"""A secret key that is made once and kept in the data folder."""

import os
import secrets
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured
from django.core.management.utils import get_random_secret_key


def kept_secret_key(path: Path) -> str:
    """The key in `path`; written there first if there is none.

    It is written beside its place and put there whole: two processes that start together agree on one key, neither
    reads half of one, and a machine that stops in between leaves none.
    """
    try:
        return _read(path)
    except FileNotFoundError:
        pass
    draft = path.with_name(f"{path.name}.{secrets.token_hex(8)}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        _write(draft)
        _put(draft, path)
    except OSError as error:
        raise ImproperlyConfigured(f"The secret key cannot be written to {path}: {error.strerror}.") from error
    finally:
        draft.unlink(missing_ok=True)
    return _read(path)


def _write(draft):
    descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w", encoding="ascii") as file:
        file.write(get_random_secret_key() + get_random_secret_key())
        file.flush()
        os.fsync(file.fileno())


def _put(draft, path):
    """Whoever comes first stays; a file system without links is taken to be used by one process alone."""
    try:
        path.hardlink_to(draft)
    except FileExistsError:
        return
    except OSError:
        if not path.exists():
            draft.replace(path)


def _read(path):
    key = path.read_text(encoding="ascii").strip()
    if len(key) < 50:
        raise ImproperlyConfigured(f"{path} holds no usable secret key; remove it to have a new one made.")
    return key
