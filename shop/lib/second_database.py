"""Another database beside the shop's own, for as long as a block lasts."""

from contextlib import contextmanager

from django.core.management import call_command
from django.db import connections
from django.db.migrations.executor import MigrationExecutor


@contextmanager
def opened(settings, alias="other"):
    """The database of these `settings` as connection `alias`."""
    whole = connections.configure_settings({"default": connections.settings["default"], alias: settings})[alias]
    connections.settings[alias] = whole
    try:
        yield alias
    finally:
        connections[alias].close()
        del connections[alias]
        del connections.settings[alias]


@contextmanager
def sqlite_file(path, alias="other", *, targets=None):
    """The SQLite file `path`, which is made where there is none, brought up to this version's tables.

    targets: migrations, as (app, name), to stop at instead.
    """
    init = "PRAGMA foreign_keys=ON;"
    with opened({"ENGINE": "django.db.backends.sqlite3", "NAME": path, "OPTIONS": {"init_command": init}}, alias):
        if targets is None:
            call_command("migrate", database=alias, verbosity=0)
        else:
            MigrationExecutor(connections[alias]).migrate(targets)
        yield alias
