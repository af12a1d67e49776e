"""Migrated, empty databases to begin with, a file and one on the server, made once: migrating takes seconds.

Several processes of tests want one at the same time. The first makes it while the others wait.
"""

import fcntl
import hashlib
import os
import sqlite3
import subprocess
import sys
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import django
import psycopg

from tests import servers

ROOT = Path(__file__).resolve().parents[1]
FOLDER = ROOT / ".pytest_cache" / "migrated"
MADE_BY = ("shop/*/migrations/*.py", "shop/lib/frozen.py", "shop/lib/cache_table.py",
           "shop/lib/touched.py", "shop/figures/watching.py")  # fmt: skip


def file():
    """A migrated SQLite file, to be copied. It outlives the run, until a migration changes."""
    kept = FOLDER / f"{_made_of()}.sqlite3"
    with _alone():
        if not kept.exists():
            with TemporaryDirectory(dir=FOLDER) as folder:
                _migrate(folder, "")
                Path(folder, "shop.sqlite3").replace(kept)
    return kept


def on_server():
    """The name of a migrated database on the tests' server, to be copied as a template."""
    name = f"migrated_{_made_of()}"
    with _alone(), psycopg.connect(servers.SERVER, autocommit=True) as server, TemporaryDirectory(dir=FOLDER) as folder:
        if not server.execute("SELECT 1 FROM pg_database WHERE datname = %s", [name]).fetchone():
            made = servers.new_database()
            _migrate(folder, made)
            server.execute(f'ALTER DATABASE "{servers.name_in(made)}" RENAME TO "{name}"')
    return name


def _made_of():
    made_of = hashlib.sha256(f"{django.__version__} {sqlite3.sqlite_version}".encode())
    for path in sorted(path for pattern in MADE_BY for path in ROOT.glob(pattern)):
        made_of.update(path.name.encode() + path.read_bytes())
    return made_of.hexdigest()[:24]


@contextmanager
def _alone():
    FOLDER.mkdir(parents=True, exist_ok=True)
    with (FOLDER / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _migrate(folder, database_url):
    subprocess.run(
        [sys.executable, "manage.py", "migrate", "-v0"], cwd=ROOT, check=True, timeout=180,
        env={**os.environ, "WORKSHOP_DATA": str(folder), "DATABASE_URL": database_url},
    )  # fmt: skip
