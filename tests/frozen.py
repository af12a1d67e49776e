"""`.venv/bin/python -m tests.frozen` keeps the data folder of today's release, for later ones to be tried on.

The folder is an invented workshop: its database, a photograph and its papers. Freeze it anew whenever a first migration
was remade. Once a workshop works with the program set `IN_USE`: from then on models change by further migrations only,
and what is kept here stays as it is.
"""

import json
import sqlite3
import sys
import tarfile
import tempfile
from contextlib import closing
from pathlib import Path

from tests.processes import ShopOnDisk

KEPT = Path(__file__).parent / "ground" / "older.tar.xz"
IN_USE = False
LARGEST = 300_000
# One paper and one photograph are real; the others' place is taken by the shortest file there is, to keep this small.
FILL = """
from django.core.files.storage import default_storage
from shop.figures.demo.load import load
from shop.handover import making
from shop.handover.models import Paper
from shop.lib import pdf
from shop.orders.models import WorkOrder
from shop.orders.services import add_photo
from shop.staff.models import Person
from tests import pictures
real, pdf.pdf_of = pdf.pdf_of, lambda *_, **__: b"%PDF-1.7\\n%%EOF\\n"
load(orders=16, seed=5)
pdf.pdf_of = real
ben, order = Person.objects.filter(role="bench").first(), WorkOrder.objects.latest("pk")
add_photo(order, pictures.photo(), by=ben, caption="A mark at the heel")
print(making.receipt_paper(order, by=ben).pk)
"""
PART_OF_IT = ("shop.sqlite3", "files")
# The migrations that a database has seen, applied to an empty one by the program as it is now.
AGAIN = """
import json, sys
from django.core.management import call_command
for app, name in json.loads(sys.argv[1]):
    call_command("migrate", app, name, verbosity=0)
"""


def freeze(path=KEPT, fill=FILL):
    """Make an invented workshop with the program as it is, and keep its data folder at `path`."""
    with tempfile.TemporaryDirectory() as folder:
        ShopOnDisk(folder, on_server=False).say(fill)
        with closing(sqlite3.connect(Path(folder, "shop.sqlite3"), isolation_level=None)) as database:
            database.execute("DELETE FROM staff_signedin")
            database.execute("PRAGMA journal_mode = DELETE")
            database.execute("VACUUM")
        with tarfile.open(path, "w:xz", preset=9) as packed:
            for name in PART_OF_IT:
                packed.add(Path(folder, name), name, filter=without_owner)


def without_owner(entry):
    entry.uid = entry.gid = 0
    entry.uname = entry.gname = ""
    return entry


def thaw(folder, path=KEPT):
    """Put what was kept at `path` into `folder`; returns the ShopOnDisk there."""
    with tarfile.open(path) as packed:
        packed.extractall(folder, filter="data")
    return ShopOnDisk.at(folder)


def schema_of(path):
    """{name: statement} of all tables, indexes and triggers of a SQLite file."""
    with closing(sqlite3.connect(path)) as database:
        return dict(database.execute("SELECT name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_%'"))


def remade_since(folder, beside):
    """The tables that the data folder's own migrations make differently now, in words; '' when all are the same."""
    path, again = Path(folder, "shop.sqlite3"), Path(tempfile.mkdtemp(dir=beside))
    with closing(sqlite3.connect(path)) as database:
        last = list(database.execute("SELECT app, max(name) FROM django_migrations GROUP BY app ORDER BY min(id)"))
    process = ShopOnDisk.at(again).start(AGAIN, json.dumps(last))
    process.communicate(timeout=120)
    if process.returncode:
        return "a migration that is not there any more"
    then, now = schema_of(path), schema_of(again / "shop.sqlite3")
    return ", ".join(sorted(name for name in then.keys() | now.keys() if then.get(name) != now.get(name)))


def rows_of(path):
    """{table: [row]} of a SQLite file, each row as {column: value}."""
    with closing(sqlite3.connect(path)) as database:
        database.row_factory = sqlite3.Row
        tables = [name for (name,) in database.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        tables.remove("sqlite_sequence")  # only ever grows
        return {name: [dict(row) for row in database.execute(f'SELECT * FROM "{name}"')] for name in tables}


if __name__ == "__main__":
    freeze()
    size = KEPT.stat().st_size
    sys.stdout.write(f"{size} bytes are kept in {KEPT}\n")
    sys.exit(0 if size <= LARGEST else f"That is more than {LARGEST}.")
