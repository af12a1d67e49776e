"""A data folder that an earlier release left behind, carried forward by the program as it is now."""

import sqlite3
import zipfile
from contextlib import closing

import pytest

from tests import frozen
from tests.ground.test_upgrading import backups_in, start_later

# What was in it is still shown: the last order, its paper and its photograph, byte by byte.
LOOK = """
import hashlib, sys
from django.conf import settings
settings.STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
from django.test import Client
from shop.handover.models import Paper
from shop.orders.models import Photo, WorkOrder
from shop.staff.models import Person
owner = Client(SERVER_NAME="localhost")
owner.force_login(Person.objects.filter(role="owner").first())
for order in WorkOrder.objects.all():
    answer = owner.get(f"/orders/{order.number}/")
    assert answer.status_code == 200, order
    assert order.customer.name in answer.content.decode(), order
for paper in Paper.objects.all():
    assert hashlib.sha256(paper.read()).hexdigest() == paper.sha256, paper
photo = owner.get(f"/photos/{Photo.objects.get().pk}/")
assert photo.status_code == 200, photo.status_code
print(WorkOrder.objects.count(), Paper.objects.count())
"""
SMALL = """
from shop.handover import making
from shop.orders.services import add_photo
from tests import counter_builders, factories, pictures
factories.ada()
cleo = factories.cleo()
order = counter_builders.booked(cleo)
add_photo(order, pictures.photo(), by=cleo, caption="A mark at the heel")
making.receipt_paper(order, by=cleo)
"""


def carried_forward(shop, folder):
    """Take `folder` to a later version, with its backup first, and compare every row with what it was."""
    before = frozen.rows_of(folder / "shop.sqlite3")
    assert before["orders_workorder"]
    _, errors = (later := start_later(shop, "later_well")).communicate(timeout=120)
    assert later.returncode == 0, errors
    after = frozen.rows_of(folder / "shop.sqlite3")
    lost = {table: row for table, rows in before.items() for row in rows if not kept(row, after[table])}
    assert lost == {}
    (backup,) = backups_in(folder)
    with zipfile.ZipFile(backup) as packed:
        assert packed.testzip() is None
    orders, papers = shop.say(LOOK).split()
    assert (int(orders), int(papers)) == (len(before["orders_workorder"]), len(before["handover_paper"]))


def kept(row, rows):
    """Whether a row is still there with all that it said; a later version may say more."""
    return any(row.items() <= one.items() for one in rows)


@pytest.fixture(scope="module")
def today(tmp_path_factory):
    """A small workshop, frozen by the program as it is."""
    path = tmp_path_factory.mktemp("frozen") / "today.tar.xz"
    frozen.freeze(path, fill=SMALL)
    return path


def test_what_is_frozen_today_is_carried_forward(today, tmp_path):
    carried_forward(frozen.thaw(tmp_path, today), tmp_path)


def test_what_an_earlier_release_left_is_carried_forward(tmp_path):
    assert frozen.KEPT.stat().st_size <= frozen.LARGEST
    shop = frozen.thaw(tmp_path / "older")
    remade = frozen.remade_since(tmp_path / "older", tmp_path)
    if remade and frozen.IN_USE:
        pytest.fail(f"Workshops work with the {remade} that was frozen. Put it back, and add a further migration.")
    if remade:
        pytest.skip(f"{remade} was remade, and nobody works with the old one: .venv/bin/python -m tests.frozen")
    assert len(frozen.rows_of(tmp_path / "older" / "shop.sqlite3")["orders_workorder"]) == 16
    carried_forward(shop, tmp_path / "older")


def test_a_remade_first_migration_is_told_apart(today, tmp_path):
    """The same migrations by their names, and another table than they make."""
    frozen.thaw(tmp_path / "older", today)
    assert not frozen.remade_since(tmp_path / "older", tmp_path)
    with closing(sqlite3.connect(tmp_path / "older" / "shop.sqlite3")) as database:
        database.execute("ALTER TABLE stock_supplier DROP COLUMN notes")
    assert frozen.remade_since(tmp_path / "older", tmp_path) == "stock_supplier"
