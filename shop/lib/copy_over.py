"""Copies the shop of a SQLite file to the empty database server that DATABASE_URL names."""

import sqlite3
import tempfile
from pathlib import Path

from django.core.management import call_command
from django.db import DEFAULT_DB_ALIAS, DatabaseError

from shop.ground import lock
from shop.ground.words import Trouble
from shop.lib import archive, second_database
from shop.lib.archive import BackupError
from shop.lib.backup import copy_database, one_line
from shop.lib.carry import CarryError, carry


def copy_over(path, report=lambda text: None):
    """Copy all rows of the SQLite file `path`, which stays as it is. Returns the Tables as they arrived.

    The file is read at one moment, brought up to this version's tables in a copy, and carried in one transaction.
    Raises BackupError, having changed nothing.
    """
    if archive.is_one_file():
        raise BackupError("Say where to: set DATABASE_URL to the database server's address.")
    if not path.is_file():
        raise BackupError(f"There is no file {path}.")
    try:
        held = lock.take(path.absolute().parent)
    except Trouble as trouble:
        raise BackupError(str(trouble)) from trouble
    if held is None:
        raise BackupError(f"The workshop in {path.parent} is running: stop it first, so that nothing is left behind.")
    try:
        return carry_all(path, report)
    except sqlite3.Error as error:
        raise BackupError(f"{path} could not be read: {error}.") from error
    except (CarryError, DatabaseError) as error:
        raise BackupError(one_line(error)) from error
    finally:
        lock.release(held)


def carry_all(path, report):
    with tempfile.TemporaryDirectory(prefix=".copying-", dir=path.absolute().parent) as folder:
        copy = Path(folder, archive.DATABASE)
        copy_database(path, copy, report)
        call_command("migrate", verbosity=0)
        with second_database.sqlite_file(copy) as source:
            return carry(source, DEFAULT_DB_ALIAS, report=report)
