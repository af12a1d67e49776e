"""Keys of rows as they come in from outside, where anything may stand."""

import re

from django import forms

A_KEY = re.compile(r"[0-9]{1,18}")  # what a 64-bit column holds


class KeyField(forms.IntegerField):
    """The key of one row, in the address of a list that is narrowed down to what belongs to it."""

    def __init__(self):
        super().__init__(required=False, min_value=1, max_value=10**18 - 1)


def key_of(text):
    """The number that `text` is, or None when it can be no row's key."""
    return int(text) if A_KEY.fullmatch(str(text or "")) else None


def keys_of(texts):
    """The keys among `texts`."""
    return [key for key in map(key_of, texts or ()) if key is not None]
