"""The empty SQLite database of the tests, made once for each state of the migrations: making it takes seconds."""

import hashlib
import os
import shutil
import sqlite3
from pathlib import Path

import django
from django.db import connection, connections

ROOT = Path(__file__).resolve().parents[1]
FOLDER = ROOT / ".pytest_cache" / "migrated"
MADE_BY = ("shop/*/migrations/*.py", "shop/lib/frozen.py", "shop/lib/cache_table.py",
           "shop/lib/touched.py", "shop/figures/watching.py")  # fmt: skip


def settings():
    return connections["default"].settings_dict


def is_file_database():
    return settings()["ENGINE"].endswith("sqlite3")


def place():
    """Where the file for the migrations of today is kept."""
    made_of = hashlib.sha256(f"{django.__version__} {sqlite3.sqlite_version}".encode())
    for path in sorted(path for pattern in MADE_BY for path in ROOT.glob(pattern)):
        made_of.update(path.name.encode() + path.read_bytes())
    return FOLDER / f"{made_of.hexdigest()[:24]}.sqlite3"


def fetch():
    """Lay the kept file where the tests want their database; False when there is none."""
    if not place().exists():
        return False
    shutil.copyfile(place(), settings()["TEST"]["NAME"])
    return True


def keep():
    """Keep the database as it stands now, just migrated."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    part = FOLDER / f"{os.getpid()}.part"
    with sqlite3.connect(part) as copy:
        connection.connection.backup(copy)
    copy.close()
    part.replace(place())
