"""Brings a workshop's database up to this version: backed up first, and whole or not at all.

A SQLite file is migrated in a copy that takes its place only when all went well; on a database server everything is one
transaction. A migration that fails, or a machine that stops in the middle, leaves the old version's data as it was.
"""

import fcntl
import os
import sqlite3
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import connection, transaction
from django.db.migrations.executor import MigrationExecutor

from shop.lib import archive, second_database, server_lock
from shop.lib.archive import BackupError
from shop.lib.backup import make_backup, one_line

BUSY_S = 5
LOCK = 7_240_611
BACKUP_NAME = "before-upgrade-%Y%m%d-%H%M%S.zip"


class UpgradeError(Exception):
    """Why the database stays as it was. The message is a sentence for people."""


@dataclass
class Upgraded:
    """What was done: the migrations, as app.name, and the backup that was made before them, if there was anything."""

    migrations: list[str] = field(default_factory=list)
    backup: Path | None = None


def upgrade(report=lambda text: None):
    """Apply what is missing. Two at once: the second waits, and then finds nothing to do. Raises UpgradeError."""
    with only_one():
        missing, is_new = what_is_missing()
        if not missing:
            return Upgraded()
        try:
            backup = None if is_new else back_up(report)
            if is_new or not archive.is_one_file():
                migrate_in_place(is_new)
            else:
                migrate_a_copy(archive.database_path(), report)
        except BackupError as error:
            raise UpgradeError(f"Nothing was changed, because no backup could be made first. {error}") from error
        except Exception as error:  # a migration is a program of its own and may fail in any way
            raise UpgradeError(
                f"The database could not be brought up to this version and is as it was: {one_line(error)} "
                "Start the version that you had; nothing is lost."
            ) from error
        return Upgraded(missing, backup)


def what_is_missing():
    """The migrations to apply, and whether the database is a new one. Refuses one from a newer version."""
    loader = (executor := MigrationExecutor(connection)).loader
    known = set(loader.disk_migrations)
    rooms = {app for app, _ in known}
    newer = [f"{app}.{name}" for app, name in loader.applied_migrations if app in rooms and (app, name) not in known]
    if newer:
        raise UpgradeError(f"This data is from a newer version of the program ({newer[0]}): start that version.")
    plan = executor.migration_plan(loader.graph.leaf_nodes())
    return [f"{one.app_label}.{one.name}" for one, _ in plan], not loader.applied_migrations


def back_up(report):
    settings.BACKUPS_ROOT.mkdir(mode=0o700, parents=True, exist_ok=True)
    return make_backup(settings.BACKUPS_ROOT / datetime.now(UTC).strftime(BACKUP_NAME), report).path


def migrate_in_place(is_new):
    if is_new:
        call_command("migrate", verbosity=0)
        return
    with transaction.atomic():
        with connection.cursor() as cursor:
            # What waits to be checked at the end would keep a later migration from altering its table.
            cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
        call_command("migrate", verbosity=0)


def migrate_a_copy(path, report):
    connection.close()
    draft = path.with_name(path.name + ".upgrading")
    try:
        with closing(sqlite3.connect(path, timeout=BUSY_S, isolation_level=None)) as live:
            # Nothing may lie in a journal beside the file, since another file is to take its place; and nobody else
            # may write to the old one meanwhile. Both fail where somebody still works with it.
            live.execute("PRAGMA journal_mode = DELETE")
            live.execute("PRAGMA locking_mode = EXCLUSIVE")
            live.execute("BEGIN EXCLUSIVE")
            live.execute("COMMIT")  # in this mode the lock stays, and what is not in a transaction can be copied
            draft.unlink(missing_ok=True)
            with closing(sqlite3.connect(draft)) as copy:
                live.backup(copy)
            draft.chmod(path.stat().st_mode & 0o777)
            report("bringing the copy up to date")
            with second_database.sqlite_file(draft):
                pass
            flush(draft)
            draft.replace(path)
            flush(path.parent)
    finally:
        draft.unlink(missing_ok=True)
        draft.with_name(draft.name + "-journal").unlink(missing_ok=True)


def flush(path):
    opened = os.open(path, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


@contextmanager
def only_one():
    """One upgrade at a time on a database, also from several machines. The lock ends with the process."""
    if archive.is_one_file():
        settings.DATA_DIR.mkdir(mode=0o700, parents=True, exist_ok=True)
        held = os.open(settings.DATA_DIR / ".upgrade", os.O_CREAT | os.O_RDWR, 0o600)
        try:
            fcntl.flock(held, fcntl.LOCK_EX)
            yield
        finally:
            os.close(held)
        return
    with server_lock.held(LOCK):
        yield
