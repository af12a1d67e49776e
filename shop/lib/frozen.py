"""Rows that the database itself refuses to change, whoever asks: the last line behind models and services."""

from django.db import migrations

SQLITE = "CREATE TRIGGER {name} BEFORE UPDATE {columns}ON {table} WHEN {when} BEGIN SELECT RAISE(ABORT, '{says}'); END"
POSTGRESQL = (
    "CREATE FUNCTION {name}() RETURNS trigger AS $$ BEGIN RAISE EXCEPTION '{says}' USING ERRCODE = "
    "'integrity_constraint_violation'; END $$ LANGUAGE plpgsql;"
    "CREATE TRIGGER {name} BEFORE UPDATE {columns}ON {table} FOR EACH ROW WHEN ({when}) EXECUTE FUNCTION {name}()"
)


KEPT_SQLITE = "CREATE TRIGGER {name} BEFORE DELETE ON {table} BEGIN SELECT RAISE(ABORT, '{says}'); END"
KEPT_POSTGRESQL = (
    "CREATE FUNCTION {name}() RETURNS trigger AS $$ BEGIN RAISE EXCEPTION '{says}' USING ERRCODE = "
    "'integrity_constraint_violation'; END $$ LANGUAGE plpgsql;"
    "CREATE TRIGGER {name} BEFORE DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()"
)


def kept_rows(table, *, says):
    """A migration operation: rows of `table` can no longer be deleted. `says` as for `frozen_rows`."""
    name = f"kept_{table}"

    def keep(_apps, editor):
        form = KEPT_SQLITE if editor.connection.vendor == "sqlite" else KEPT_POSTGRESQL
        editor.execute(form.format(name=name, table=table, says=says), params=None)

    def let_go(_apps, editor):
        if editor.connection.vendor == "sqlite":
            editor.execute(f"DROP TRIGGER {name}")
        else:
            editor.execute(f"DROP TRIGGER {name} ON {table}; DROP FUNCTION {name}()")

    return migrations.RunPython(keep, let_go)


def frozen_rows(table, *, when, says, but=()):
    """A migration operation: rows of `table` for which `when` holds (of OLD) can no longer be updated.

    `says` is the database's answer, without quotes. `but` names columns that may be written all the same, as long as
    no other is written with them. A later migration that alters the table on SQLite makes it anew
    and has to add this operation again. Deleting is refused by the models and by the rows that refer to these.
    """
    fields = {"name": f"frozen_{table}", "table": table, "when": when, "says": says}

    def freeze(_apps, editor):
        columns = f"OF {', '.join(_columns_but(editor.connection, table, but))} " if but else ""
        form = SQLITE if editor.connection.vendor == "sqlite" else POSTGRESQL
        editor.execute(form.format(columns=columns, **fields), params=None)

    def thaw(_apps, editor):
        if editor.connection.vendor == "sqlite":
            editor.execute(f"DROP TRIGGER {fields['name']}")
        else:
            editor.execute(f"DROP TRIGGER {fields['name']} ON {table}; DROP FUNCTION {fields['name']}()")

    return migrations.RunPython(freeze, thaw)


def _columns_but(connection, table, but):
    with connection.cursor() as cursor:
        found = connection.introspection.get_table_description(cursor, table)
    return [connection.ops.quote_name(one.name) for one in found if one.name not in but]
