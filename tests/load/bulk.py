"""Rows written in bulk, in either database: moulds of rows that are there, copied with other keys and other days."""

from datetime import date
from functools import lru_cache

from django.core.management.color import no_style
from django.db import connection, models, transaction
from django.db.models import Max
from django.db.models.functions import Cast

ROWS_AT_ONCE = 60_000
QUICKLY = {
    "sqlite": ["PRAGMA synchronous = OFF", "PRAGMA cache_size = -400000", "PRAGMA wal_autocheckpoint = 50000"],
    "postgresql": ["SET synchronous_commit = off"],
}


@lru_cache(maxsize=20_000)
def day_text(ordinal):
    return date.fromordinal(ordinal).isoformat()


class Mould:
    """One row as the database takes it, ready to be copied."""

    def __init__(self, instance):
        self.model = type(instance)
        self.instance = instance
        fields = instance._meta.local_concrete_fields
        self.place = {field.attname: place for place, field in enumerate(fields)}
        self.values = [_prepared(field, instance) for field in fields]
        self.days = [
            (place, date.fromisoformat(str(self.values[place])[:10]).toordinal(), str(self.values[place])[10:])
            for place, field in enumerate(fields)
            if isinstance(field, models.DateField) and self.values[place] is not None
        ]

    def copy(self, *, later_days=0, **changes):
        """The row's values, its days moved, and what `changes` says by the names of columns' attributes."""
        row = self.values.copy()
        for place, ordinal, rest in self.days:
            row[place] = day_text(ordinal + later_days) + rest
        for name, value in changes.items():
            row[self.place[name]] = value
        return row


def moulds(rows):
    return [Mould(one) for one in rows]


def _prepared(field, instance):
    if isinstance(field, models.JSONField):
        as_text = Cast(field.attname, models.TextField())
        return type(instance).objects.filter(pk=instance.pk).values_list(as_text, flat=True)[0]
    value = field.get_db_prep_save(getattr(instance, field.attname), connection)
    return value if value is None or isinstance(value, (int, float)) else str(value)


class Writer:
    """Gathers rows by table and writes them, parents first, a good many at once."""

    def __init__(self, *order):
        self.rows = {model: [] for model in order}
        self.last = {model: model.objects.aggregate(last=Max("pk"))["last"] or 0 for model in order}
        with connection.cursor() as cursor:  # whoever is cut off builds anew: nothing has to be on the disk at once
            for setting in QUICKLY[connection.vendor]:
                cursor.execute(setting)

    def new_pk(self, model):
        self.last[model] += 1
        return self.last[model]

    def add(self, model, row):
        self.rows[model].append(row)

    @property
    def is_full(self):
        return sum(map(len, self.rows.values())) >= ROWS_AT_ONCE

    def write(self):
        with transaction.atomic():
            for model, rows in self.rows.items():
                if rows:
                    _insert(model, rows)
                rows.clear()

    def finish(self):
        """Write what is left, and let the database go on counting from here and know how large it has become."""
        self.write()
        with connection.cursor() as cursor:
            for statement in connection.ops.sequence_reset_sql(no_style(), list(self.rows)):
                cursor.execute(statement)
            if connection.vendor == "postgresql":  # which looks by itself now and then; the shop never has SQLite look
                cursor.execute("ANALYZE")


def _insert(model, rows):
    quote = connection.ops.quote_name
    columns = ", ".join(quote(field.column) for field in model._meta.local_concrete_fields)
    table = quote(model._meta.db_table)
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            with cursor.copy(f"COPY {table} ({columns}) FROM STDIN") as into:
                for row in rows:
                    into.write_row(row)
            return
        marks = ", ".join("?" * len(rows[0]))
        cursor.connection.executemany(f"INSERT INTO {table} ({columns}) VALUES ({marks})", rows)
