"""Everything that hangs on one row is hung on another of the same kind, found by the relations themselves.

No table is named here, so one that is added later is carried over like the others. Rows that the other has one of its
own of, where the database allows only one, are folded away: taken out and given back to the caller to be kept.
"""

import json
from dataclasses import dataclass, field

from django.apps import apps
from django.core import serializers
from django.db import IntegrityError, models, transaction


@dataclass
class Carried:
    """`moved` is {room.model.field: keys of the rows}, `folded` the rows that were taken out, as `written` has them."""

    moved: dict = field(default_factory=dict)
    folded: list = field(default_factory=list)


def relations_to(model):
    """Every foreign key that points at `model`, as the fields that hold it; nameless ones and links included."""
    found = model._meta.get_fields(include_hidden=True)
    return [one.field for one in found if one.auto_created and not one.concrete and not one.many_to_many]


def carry_over(gone, kept):
    """Hang all that hangs on `gone` on `kept`, in the caller's transaction. Returns what was Carried."""
    done = Carried()
    for key in relations_to(type(gone)):
        rows = key.model._base_manager.filter(**{key.name: gone})
        keys = list(rows.order_by("pk").values_list("pk", flat=True))
        if keys:
            alone = _is_alone(key)
            done.moved[_name(key)] = [one for one in keys if _move(key, one, kept, done)] if alone else keys
            if not alone:
                rows.update(**{key.name: kept})
    return done


def hang_back(moved, *, kept, gone):
    """Hang those of the `moved` rows that still hang on `kept` on `gone` again."""
    for name, keys in moved.items():
        label, _, key = name.rpartition(".")
        rows = apps.get_model(label)._base_manager.filter(pk__in=keys, **{key: kept})
        rows.update(**{key: gone})


def fold_away(rows, done):
    """Take `rows` out and keep them in `done`."""
    rows = list(rows)
    done.folded += [written(row) for row in rows]
    for row in rows:
        row.delete()


def written(row):
    """One row as plain data that JSON can hold."""
    return json.loads(serializers.serialize("json", [row]))[0]


def unfolded(data):
    """The row that `written` wrote, not stored yet; `.object` is the row, `.save()` stores it as it was."""
    return next(serializers.deserialize("python", [data], ignorenonexistent=True))


def _move(key, row, kept, done):
    """Whether the row could be hung on `kept`; one that could not is folded away."""
    try:
        with transaction.atomic():
            key.model._base_manager.filter(pk=row).update(**{key.name: kept})
    except IntegrityError:
        fold_away(key.model._base_manager.filter(pk=row), done)
        return False
    return True


def _is_alone(key):
    """Whether the database lets a row have only one of these, by itself or together with other columns."""
    constraints = [one for one in key.model._meta.constraints if isinstance(one, models.UniqueConstraint)]
    together = [*key.model._meta.unique_together, *(one.fields for one in constraints)]
    return key.unique or any(key.name in one for one in together) or any(one.expressions for one in constraints)


def _name(key):
    return f"{key.model._meta.label_lower}.{key.name}"
