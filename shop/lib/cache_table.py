"""The table behind Django's cache, made by a migration: every way of preparing the data then brings it along."""

from django.core.cache import caches
from django.core.management import call_command
from django.db import migrations


def cache_table():
    """A migration operation: the table that the default cache lives in."""

    def make(_apps, editor):
        call_command("createcachetable", database=editor.connection.alias, verbosity=0)

    def drop(_apps, editor):
        editor.execute(f"DROP TABLE {editor.quote_name(caches['default']._table)}")

    return migrations.RunPython(make, drop)
