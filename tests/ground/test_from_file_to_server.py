"""From the laptop's file to a database server and back, by backup or by copying: row by row and file by file."""

import json
import sqlite3
from contextlib import closing

import pytest

from shop.lib.carry import REMADE
from tests.processes import ShopOnDisk, manage
from tests.servers import needs_server, new_database

pytestmark = needs_server
FILL = """
from django.core.files.base import ContentFile
from shop.billing import services
from shop.orders.models import Photo
from tests import factories, money_builders as build
cleo = factories.cleo()
instrument = factories.instrument(owner=factories.customer("Žofie Nørgård – “Łódź” 🎸"))
orders = [build.order(cleo, instrument=instrument) for _ in range(5)]
for order in orders[:3]:
    services.issue(order, by=cleo)
for order in orders:
    photo = Photo(order=order, by=cleo, width=3, height=2)
    photo.file.save(f"{order.pk} ä.jpg", ContentFile(bytes(range(256)) * order.pk), save=False)
    photo.thumb.save(f"{order.pk}-small.jpg", ContentFile(b"small"), save=False)
    photo.save()
"""
ADD = """
from shop.billing import services
from shop.orders.models import WorkOrder
from shop.staff.models import Person
from tests import factories
factories.customer("New Here")
order = WorkOrder.objects.order_by("pk")[3]
print(services.issue(order, by=Person.objects.get(username="cleo")).number)
"""


def everything_in(folder):
    """Each table's rows, in the order of their first column, and each kept file's bytes.

    What can be made anew from the rest stays behind, and is not looked at.
    """
    with closing(sqlite3.connect(folder / "shop.sqlite3")) as database:
        tables = [name for (name,) in database.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        kept = [name for name in tables if not name.startswith(("sqlite_", REMADE)) and name != "django_migrations"]
        found = {name: database.execute(f'SELECT * FROM "{name}" ORDER BY 1').fetchall() for name in kept}
        rows = {name: [[as_value(one) for one in row] for row in rows] for name, rows in found.items()}
    files = [path for path in sorted((folder / "files").rglob("*")) if path.is_file()]
    return rows, {str(path.relative_to(folder)): path.read_bytes() for path in files}


def as_value(one):
    """JSON by what it says: a server orders the names in it its own way."""
    return json.loads(one) if isinstance(one, str) and one[:1] in ("{", "[") else one


def notes_in(folder):
    """What the database has noted about rows that only arrived."""
    with closing(sqlite3.connect(folder / "shop.sqlite3")) as database:
        return database.execute("SELECT count(*) FROM remade_figures_touched").fetchone()[0]


@pytest.fixture
def filled(tmp_path):
    folder = tmp_path / "laptop"
    folder.mkdir()
    shop = ShopOnDisk(folder, on_server=False)
    shop.say(FILL)
    return folder


def test_a_backup_goes_to_the_server_and_comes_back(filled, tmp_path):
    address = new_database()
    assert manage(filled, "backup", tmp_path / "one.zip").returncode == 0
    brought = manage(tmp_path / "server", "restore", tmp_path / "one.zip", DATABASE_URL=address)
    assert brought.returncode == 0, brought.stderr
    kept = manage(tmp_path / "server", "backup", tmp_path / "two.zip", DATABASE_URL=address)
    assert kept.returncode == 0, kept.stderr
    assert manage(tmp_path / "back", "restore", tmp_path / "two.zip").returncode == 0
    assert everything_in(tmp_path / "back") == everything_in(filled)
    assert len(everything_in(filled)[1]) == 10
    assert notes_in(tmp_path / "back") == 0


def test_copying_over_compares_both_sides_and_numbers_go_on(filled, tmp_path):
    address = new_database()
    before = everything_in(filled)
    copied = manage(filled, "copy_over", DATABASE_URL=address)
    assert copied.returncode == 0, copied.stderr
    assert "are the same on both sides" in copied.stdout
    assert everything_in(filled) == before
    number = ShopOnDisk(filled, on_server=address).say(ADD)
    assert number.endswith("-0004")


def test_what_is_not_empty_is_left_alone(filled, tmp_path):
    another = ShopOnDisk(tmp_path, on_server=True)
    another.say("from tests import factories; factories.customer()")
    address = another.environment["DATABASE_URL"]
    again = manage(filled, "copy_over", DATABASE_URL=address)
    assert (again.returncode, "is not empty" in again.stderr) == (1, True)
    assert manage(filled, "backup", tmp_path / "one.zip").returncode == 0
    refused = manage(tmp_path / "other", "restore", tmp_path / "one.zip", DATABASE_URL=address)
    assert (refused.returncode, "is not empty" in refused.stderr) == (1, True)
    assert not (tmp_path / "other" / "files").exists()


def test_a_row_that_changes_on_the_way_stops_it_all(filled, tmp_path):
    address = new_database()
    spoil = """
import sys
from shop.lib import carry
from shop.lib.copy_over import copy_over
from pathlib import Path
insert = carry.insert
def careless(model, alias, rows):
    if model.__name__ == "Customer":
        rows = [[value + "!" if isinstance(value, str) and "dź" in value else value for value in row] for row in rows]
    insert(model, alias, rows)
carry.insert = careless
try:
    copy_over(Path(sys.argv[1]))
except Exception as error:
    print(error)
from shop.people.models import Customer
print(Customer.objects.count())
"""
    said = ShopOnDisk(filled, on_server=address).say(spoil, filled / "shop.sqlite3")
    assert "people_customer did not arrive as it was sent" in said
    assert said.endswith("\n0")
