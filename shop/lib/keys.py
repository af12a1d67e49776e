"""Keys of rows as they come in from outside, where anything may stand."""

import re

from django import forms

A_KEY = re.compile(r"[0-9]{1,18}")  # what a 64-bit column holds


class KeyField(forms.IntegerField):
    """The key of one row, in the address of a list that is narrowed down to what belongs to it."""

    def __init__(self):
        super().__init__(required=False, min_value=1, max_value=10**18 - 1)


class RowsField(forms.ModelMultipleChoiceField):
    """Several rows, ticked. What can be no row's key is refused like one that cannot be chosen."""

    default_error_messages = {"no_key": "Choose from this list only."}

    def _check_values(self, value):
        if len(keys_of(value)) != len(value):
            raise forms.ValidationError(self.error_messages["no_key"], code="no_key")
        return super()._check_values(value)


def key_of(text):
    """The number that `text` is, or None when it can be no row's key."""
    return int(text) if A_KEY.fullmatch(str(text or "")) else None


def keys_of(texts):
    """The keys among `texts`."""
    return [key for key in map(key_of, texts or ()) if key is not None]
