"""Forms that two people may have open at once: each writes only what they changed, and is told of a clash."""

from contextlib import suppress
from decimal import InvalidOperation

from django import forms
from django.db import transaction
from django.utils.functional import cached_property


class CarefulForm(forms.ModelForm):
    """A form of a new or an existing row. Every field remembers, hidden, what it showed when the page was opened.

    Only fields whose text was changed are written, so whoever changed others meanwhile loses nothing. A field that
    somebody else changed too is an error that names the other's value; saving again, knowing it, overwrites.
    """

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.is_new = self.instance.pk is None
        self.held = dict(self.initial)
        for field in self.fields.values():
            field.show_hidden_initial = not self.is_new

    @cached_property
    def changed_data(self):
        return [name for name, bound in self._bound_items() if _differs(bound)]

    def clean(self):
        cleaned = super().clean()
        for name in () if self.is_new else self.changed_data:
            if name in self.cleaned_data:
                self._check_clash(name)
        return cleaned

    def _check_clash(self, name):
        field, now = self.fields[name], self.held.get(name)
        hidden_name = self.add_initial_prefix(name)
        seen = field.hidden_widget().value_from_datadict(self.data, self.files, hidden_name)
        with suppress(InvalidOperation):
            if not field.has_changed(now, seen) or not field.has_changed(now, self[name].data):
                return
        self.data = self.data.copy()
        self.data[hidden_name] = "" if now is None else field.prepare_value(now)
        self.add_error(name, f"Somebody changed this meanwhile to: {_said(field, now)} Save again to overwrite it.")

    @property
    def changes(self):
        """{field: new value} of what this person changed."""
        return {name: self.cleaned_data[name] for name in self.changed_data if name in self.cleaned_data}

    def save_changes(self):
        """Write the changed fields, and return the row as it now stands. A new row is written whole."""
        if self.is_new:
            self.instance.save()
            return self.instance
        with transaction.atomic():
            row = type(self.instance).objects.select_for_update().get(pk=self.instance.pk)
            for name, value in self.changes.items():
                setattr(row, name, value)
            if self.changes:
                row.save(update_fields=list(self.changes))
        return row


def _differs(bound):
    try:
        return bound._has_changed()
    except InvalidOperation:  # a number that compares with nothing, which no page of ours has shown
        return True


def _said(field, value):
    choices = dict(getattr(field, "choices", ()) or ())
    text = str(choices.get(value, value)) if value not in (None, "") else "nothing"
    return text if text.endswith(".") else f"{text}."
