"""An older workshop comes along whole, after a backup; a failure in the middle leaves it to the version it had."""

import subprocess
import sys

import pytest

from tests.processes import ROOT, ShopOnDisk
from tests.servers import has_server

FILL = """
from shop.stock.models import PriceItem
for name in ("Nut", "Saddle"):
    PriceItem.objects.create(name=name, price="10.00", tax_rate="20.00")
"""
NAMES = """
from shop.stock.models import PriceItem
print(*PriceItem.objects.order_by("name").values_list("name", flat=True))
"""
SHELVES = """
from django.db import connection
with connection.cursor() as cursor:
    cursor.execute("SELECT shelf FROM stock_priceitem ORDER BY name")
    print(*[shelf for (shelf,) in cursor.fetchall()], sep=", ")
"""
# As the later version would run it: its migrations of one room lie elsewhere, the rest is the same.
LATER = """
import sys
from django.conf import settings
settings.MIGRATION_MODULES = {"stock": "tests.ground." + sys.argv[1]}
import django
django.setup()
from django.core.management import CommandError, call_command
try:
    call_command("upgrade")
except CommandError as error:
    sys.exit(str(error))
"""
DATABASES = [False, pytest.param(True, marks=pytest.mark.skipif(not has_server, reason="with --database postgresql"))]


@pytest.fixture(params=DATABASES, ids=["file", "server"])
def older(request, tmp_path):
    shop = ShopOnDisk(tmp_path, on_server=request.param)
    shop.say(FILL)
    return shop


def start_later(shop, which, **environment):
    return subprocess.Popen(
        [sys.executable, "-c", LATER, which], cwd=ROOT, env={**shop.environment, **environment},
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip


def backups_in(folder):
    return sorted((folder / "backups").glob("before-upgrade-*.zip"))


def test_it_is_backed_up_and_brought_along(older, tmp_path):
    said, errors = (later := start_later(older, "later_well")).communicate(timeout=120)
    assert later.returncode == 0, errors
    (kept,) = backups_in(tmp_path)
    assert f"kept in {kept}" in said
    assert older.say(SHELVES) == "shelf of Nut, shelf of Saddle"
    back = ShopOnDisk.at(tmp_path / "back")
    assert back.manage("restore", kept).returncode == 0
    assert back.say(NAMES) == "Nut Saddle"


@pytest.mark.parametrize("killed", ["", "1"], ids=["fails", "killed"])
def test_a_failure_in_the_middle_leaves_the_older_one(older, tmp_path, killed):
    later = start_later(older, "later_badly", KILLED_HALFWAY=killed)
    _, errors = later.communicate(timeout=120)
    assert later.returncode == (-9 if killed else 1)
    assert killed or "is as it was: a price without a currency. Start the version that you had" in errors
    assert older.say(NAMES) == "Nut Saddle"
    assert len(backups_in(tmp_path)) == 1
    assert older.manage("upgrade").stdout == "0 changes were made to the database.\n"


def test_two_at_once_are_one_after_the_other(older, tmp_path):
    both = [start_later(older, "later_well") for _ in range(2)]
    said = [one.communicate(timeout=120)[0].splitlines()[-1] for one in both]
    assert [one.returncode for one in both] == [0, 0]
    assert sorted(said) == ["0 changes were made to the database.", "1 changes were made to the database."]
    assert len(backups_in(tmp_path)) == 1
    assert older.say(SHELVES) == "shelf of Nut, shelf of Saddle"


def test_a_newer_workshop_is_refused(older):
    start_later(older, "later_well").communicate(timeout=120)
    refused = older.manage("upgrade")
    assert refused.returncode == 1
    assert "This data is from a newer version of the program (stock.0002_shelf): start that" in refused.stderr
