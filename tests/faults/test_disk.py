"""A full disk and a folder that cannot be written to: what was said to be kept is kept, the rest is refused whole."""

import os
import sqlite3
from contextlib import closing

import pytest

from tests.processes import ShopOnDisk

SET_UP = """
from tests import factories
factories.cleo()
factories.instrument()
"""
# A limit on the size of files stands for the disk's end: the kernel refuses what goes beyond, in the middle of a write.
WRITE = """
import os, resource, signal, sys
from shop.instruments.models import Instrument
from shop.staff.models import Person
from tests.counter_builders import booked
one, cleo = Instrument.objects.select_related("customer").get(), Person.objects.get()
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
spare = int(sys.argv[1])
if spare >= 0:
    largest = max(os.path.getsize(sys.argv[2] + end) for end in ("", "-wal") if os.path.exists(sys.argv[2] + end))
    resource.setrlimit(resource.RLIMIT_FSIZE, (largest + spare, largest + spare))
for _ in range(int(sys.argv[3])):
    try:
        print(booked(cleo, instrument=one).number, flush=True)
    except Exception as error:
        print("refused", type(error).__name__, error, flush=True)
        break
"""


@pytest.fixture
def shop(tmp_path):
    made = ShopOnDisk(tmp_path, on_server=False)
    made.say(SET_UP)
    return made


def numbers_in(folder):
    with closing(sqlite3.connect(folder / "shop.sqlite3")) as database:
        assert database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
        kept = database.execute(
            "SELECT number, (SELECT count(*) FROM orders_event e WHERE e.order_id = o.id) FROM orders_workorder o"
        ).fetchall()
    assert all(events for _, events in kept)
    return {number for number, _ in kept}


@pytest.mark.parametrize("spare", [0, 5_000, 50_000, 333_333])
def test_a_full_disk(shop, tmp_path, spare):
    *kept, refused = shop.say(WRITE, spare, tmp_path / "shop.sqlite3", 5000).splitlines()
    assert refused.startswith("refused OperationalError")
    assert numbers_in(tmp_path) == set(kept)
    after = shop.say(WRITE, -1, tmp_path / "shop.sqlite3", 3).splitlines()
    assert numbers_in(tmp_path) == {*kept, *after}


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can become somebody who may not write")
def test_a_folder_that_cannot_be_written_to(shop, tmp_path):
    path = tmp_path / "shop.sqlite3"
    before = path.read_bytes()
    for folder in [tmp_path, *tmp_path.parents][:3]:
        folder.chmod(0o755)
    path.chmod(0o444)
    become_nobody = "import os; os.setgid(65534); os.setuid(65534)\n"
    said = shop.start(WRITE.replace("import os, res", become_nobody + "import os, res", 1), -1, path, 1).communicate()
    assert "Traceback" in said[1] or "refused OperationalError" in said[0]
    assert "26-" not in said[0]
    assert path.read_bytes() == before
