"""A secret key that is made once and kept in the data folder."""

import os
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured
from django.core.management.utils import get_random_secret_key


def kept_secret_key(path: Path) -> str:
    """The key in `path`; written there first if there is none.

    The file is created exclusively, so two processes that start together agree on one key.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return _read(path)
    except OSError as error:
        raise ImproperlyConfigured(f"The secret key cannot be written to {path}: {error.strerror}.") from error
    with os.fdopen(descriptor, "w", encoding="ascii") as file:
        key = get_random_secret_key() + get_random_secret_key()
        file.write(key)
        file.flush()
        os.fsync(file.fileno())
    return key


def _read(path):
    key = path.read_text(encoding="ascii").strip()
    if len(key) < 50:
        raise ImproperlyConfigured(f"{path} holds no usable secret key; remove it to have a new one made.")
    return key
