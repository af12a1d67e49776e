"""The form of a backup: one zip file with the database, the kept files, and a manifest that vouches for each of them.

`manifest.json` names every other entry with its size and SHA-256, every table with its rows, and every migration the
database has seen, so that a damaged or foreign archive is known before anything is touched.
"""

import sqlite3
from contextlib import closing
from pathlib import Path

from django.conf import settings

KIND = "workshop backup"
VERSION = 1
MANIFEST = "manifest.json"
DATABASE = "shop.sqlite3"
SECRET_KEY = "secret-key"  # noqa: S105 (a file's name)
CHUNK = 1 << 20


class BackupError(Exception):
    """Why a backup could not be made or brought back. The text is a sentence for people."""


def folders():
    """The folders that are kept, by their name in the archive."""
    return {"files": settings.FILES_ROOT, "outbox": settings.EMAIL_FILE_PATH}


def is_one_file():
    """Whether the shop's database is a SQLite file; if not, a backup holds a SQLite copy of its rows all the same."""
    return settings.DATABASES["default"]["ENGINE"].endswith("sqlite3")


def database_path():
    """Where the SQLite file of this data folder is, or would be."""
    return Path(settings.DATABASES["default"]["NAME"] if is_one_file() else settings.DATA_DIR / DATABASE)


def quoted(name):
    return '"' + name.replace('"', '""') + '"'


def rows_by_table(path):
    """How many rows each table of a SQLite file has."""
    with closing(sqlite3.connect(path)) as database:
        tables = database.execute("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
        return {
            name: database.execute(f"SELECT count(*) FROM {quoted(name)}").fetchone()[0]  # noqa: S608 (its own name)
            for (name,) in sorted(tables)
        }


def migrations_in(path):
    """The migrations that a SQLite file has seen, as app.name."""
    with closing(sqlite3.connect(path)) as database:
        seen = database.execute("SELECT app, name FROM django_migrations ORDER BY id")
        return [f"{app}.{name}" for app, name in seen]
