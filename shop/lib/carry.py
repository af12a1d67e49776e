"""Carries every row from one database to another of either kind, and proves that all of them arrived unchanged.

The target is migrated and holds nobody's rows. Everything happens in one transaction of the target, over one unmoving
view of the source: at the end all is there, or nothing.
"""

import hashlib
import json
from contextlib import contextmanager
from dataclasses import dataclass

from django.apps import apps as current_apps
from django.contrib.auth.models import Permission
from django.contrib.contenttypes.models import ContentType
from django.core.management.color import no_style
from django.db import connections, transaction

ROWS_AT_ONCE = 200  # in memory: of worksheets each may be fifty kilobytes long
# What a migration itself writes into an empty database.
WRITTEN_BY_MIGRATING = {Permission._meta.db_table, ContentType._meta.db_table}
REMADE = "remade_"  # tables whose names begin so hold only what is made anew from others, and stay behind


class CarryError(Exception):
    """Why the rows could not be carried. The message is a sentence for people."""


@dataclass(frozen=True)
class Table:
    """What one table holds: how many rows, and a digest over all of their values in the order of their keys."""

    name: str
    rows: int
    sha256: str


def tables(apps=current_apps):
    """Every model with rows of its own, those between two others included."""
    return [one for one in _all_tables(apps) if not one._meta.db_table.startswith(REMADE)]


def _all_tables(apps):
    found = [one for one in apps.get_models(include_auto_created=True) if one._meta.managed and not one._meta.proxy]
    return sorted(found, key=lambda one: one._meta.db_table)


def carry(source, target, *, apps=current_apps, report=lambda text: None):
    """Copy all rows from the database `source` to the empty one `target`, both by alias; returns the list of Tables.

    apps: the models as both databases know them. Raises CarryError, leaving the target as it was.
    """
    with unmoving(source), transaction.atomic(using=target):
        check_is_empty(target, apps)
        clear_what_migrating_wrote(target, apps)
        sent = [copy_table(model, source, target, report) for model in tables(apps)]
        clear_what_is_remade(target, apps)
        reset_counting(target, apps)
        arrived = [digest_of(model, target, report) for model in tables(apps)]
        for one, other in zip(sent, arrived, strict=True):
            if one != other:
                raise CarryError(f"{one.name} did not arrive as it was sent: {one.rows} rows became {other.rows}.")
    return arrived


@contextmanager
def unmoving(alias):
    """The database as it is at one moment, whatever others write meanwhile."""
    connection = connections[alias]
    if connection.vendor != "postgresql":
        # Reading alone never waits: in this mode nobody else's write is kept off, and none is seen.
        mode, connection.transaction_mode = connection.transaction_mode, "DEFERRED"
        try:
            with transaction.atomic(using=alias):
                yield
        finally:
            connection.transaction_mode = mode
        return
    with transaction.atomic(using=alias):
        with connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
        yield


def check_is_empty(target, apps=current_apps):
    for model in tables(apps):
        if model._meta.db_table not in WRITTEN_BY_MIGRATING and model._base_manager.using(target).exists():
            raise CarryError(f"The database to fill is not empty: it has rows in {model._meta.db_table}.")


def clear_what_migrating_wrote(target, apps):
    written = [one for one in tables(apps) if one._meta.db_table in WRITTEN_BY_MIGRATING]
    for model in sorted(written, key=lambda one: one._meta.db_table):  # permissions refer to content types
        model._base_manager.using(target)._raw_delete(target)


def clear_what_is_remade(target, apps):
    """What the database itself notes about each row that arrives is about nothing: no sum is kept there yet."""
    for model in _all_tables(apps):
        if model._meta.db_table.startswith(REMADE):
            model._base_manager.using(target)._raw_delete(target)


def rows_of(model, alias):
    names = [field.attname for field in model._meta.local_concrete_fields]
    return model._base_manager.using(alias).order_by("pk").values_list(*names).iterator(chunk_size=ROWS_AT_ONCE)


def copy_table(model, source, target, report):
    digest, count, batch = hashlib.sha256(), 0, []
    for row in rows_of(model, source):
        digest.update(canonical(row))
        count += 1
        batch.append(row)
        if len(batch) == ROWS_AT_ONCE:
            insert(model, target, batch)
            batch = []
            report(f"{model._meta.db_table}, {count} rows")
    insert(model, target, batch)
    return Table(model._meta.db_table, count, digest.hexdigest())


def digest_of(model, alias, report=lambda text: None):
    """The Table as it stands in the database `alias`."""
    digest, count = hashlib.sha256(), 0
    for count, row in enumerate(rows_of(model, alias), start=1):
        digest.update(canonical(row))
        if count % ROWS_AT_ONCE == 0:
            report(f"checking {model._meta.db_table}, {count} rows")
    return Table(model._meta.db_table, count, digest.hexdigest())


def insert(model, alias, rows):
    if not rows:
        return
    connection, fields = connections[alias], model._meta.local_concrete_fields
    quote = connection.ops.quote_name
    columns = ", ".join(quote(field.column) for field in fields)
    marks = ", ".join(["%s"] * len(fields))
    statement = f"INSERT INTO {quote(model._meta.db_table)} ({columns}) VALUES ({marks})"  # noqa: S608 (our own names)
    ready = [
        [field.get_db_prep_save(value, connection) for field, value in zip(fields, row, strict=True)] for row in rows
    ]
    with connection.cursor() as cursor:
        cursor.executemany(statement, ready)


def reset_counting(target, apps):
    connection = connections[target]
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), tables(apps)):
            cursor.execute(statement)


def canonical(row):
    """A row's values in a form that both databases agree on."""
    return json.dumps([plain(value) for value in row], sort_keys=True, separators=(",", ":")).encode() + b"\n"


def plain(value):
    """JSON's numbers come back as whole or broken ones as the database likes; everything else has one writing.

    A zero below zero, which a reckoning leaves now and then, is plain zero: PostgreSQL's jsonb knows no other.
    """
    if value is None or isinstance(value, (bool, str)):
        return value
    if isinstance(value, (int, float)):
        return repr(float(value) + 0.0) if abs(value) <= 2**53 else repr(int(value))
    if isinstance(value, dict):
        return {name: plain(one) for name, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(one) for one in value]
    if isinstance(value, (bytes, memoryview)):
        return bytes(value).hex()
    return f"{type(value).__name__} {value}"

