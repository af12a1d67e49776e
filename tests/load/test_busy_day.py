"""Many busy shops at once on one server with years of orders: nothing fails, and memory stays where it is."""

import contextlib
import os
import random
import socket
import sqlite3
import subprocess
import sys
import time
import uuid
from pathlib import Path

import pytest

from shop.figures.demo import cast
from tests import measured
from tests.faults.counter import Counter, NoAnswer
from tests.load import day
from tests.processes import ROOT, on_sqlite
from tests.running_shop import RunningShop

MOST_GROWTH = 1.2  # of memory, from when all is warm to the end
PLACES = 400


@pytest.fixture(scope="module")
def big(request, tmp_path_factory):
    asked = request.config.getoption
    if asked("--shop"):
        return Path(asked("--shop")).resolve()
    folder = tmp_path_factory.mktemp("big")
    size = ["--orders", str(asked("--orders")), "--customers", str(asked("--customers"))]
    subprocess.run(
        [sys.executable, "-m", "tests.load", *size], cwd=ROOT, check=True,
        env={**on_sqlite(), "WORKSHOP_DATA": str(folder)},
    )  # fmt: skip
    return folder


class People:
    """Knows what there is to ask for, and asks."""

    def __init__(self, address, folder):
        self.chance = random.Random(2)
        signed_in = Counter(address).sign_in("ilse", cast.PASSWORD)
        self.address, self.cookies = address, signed_in.cookies
        with contextlib.closing(sqlite3.connect(folder / "shop.sqlite3")) as database:
            self.orders = self._some(database, "SELECT number FROM orders_workorder")
            self.names = self._some(database, "SELECT name FROM people_customer")
            open_sheets = "SELECT id FROM worksheets_worksheet WHERE signed_at IS NULL AND family = 'two_post_stop'"
            self.sheets = self._some(database, open_sheets)

    @staticmethod
    def _some(database, query):
        return [one for (one,) in database.execute(f"{query} ORDER BY random() LIMIT {PLACES}")]

    def do(self, kind):
        counter, pick = Counter(self.address, self.cookies), self.chance.choice
        if kind == "reading":
            reading = {"client_id": str(uuid.uuid4()), "stage": "bench", "key": "relief", "raw": "0.2"}
            answer = counter.ask("POST", f"/bench/{pick(self.sheets)}/relief/save/", reading)
        else:
            answer = counter.ask("GET", self._path(kind, pick))
        if answer[0] != 200:
            raise NoAnswer(f"answered {answer[0]}")

    def _path(self, kind, pick):
        if kind == "search":
            return f"/find/?q={pick(self.names).split()[-1][:6].lower()}"
        if kind in ("order", "paper"):
            return f"/orders/{pick(self.orders)}/" + ("tag.pdf" if kind == "paper" else "")
        if kind == "step":
            return f"/bench/{pick(self.sheets)}/relief/"
        return {"list": "/orders/", "bench": "/bench/"}[kind]


def resident_mb(number):
    """Memory of a process that only it holds or that it shares, in MB."""
    return int(Path(f"/proc/{number}/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 1e6


@contextlib.contextmanager
def bare_server():
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    child = subprocess.Popen([sys.executable, "-m", "tests.load.bare", str(port)], cwd=ROOT)
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        child.terminate()
        child.wait()


def bare_median(address, count=300):
    counter, taken = Counter(address), []
    while len(taken) < count:
        began = time.monotonic()
        with contextlib.suppress(NoAnswer):  # until it listens
            counter.ask("GET", "/")
            taken.append(time.monotonic() - began)
    return day.quantile(taken, 0.5)


def test_a_busy_day(big, request):
    minutes, shops = request.config.getoption("--minutes"), request.config.getoption("--shops")
    longest = 600 + 60 * minutes
    with RunningShop(big, longest=longest, WORKSHOP_BACKUP_EVERY_HOURS="0") as shop, bare_server() as bare:
        people = People(shop.wait_until_open(), big)
        (web,) = [number for number, command in shop.children().items() if "shop.serve" in command]
        alone = bare_median(bare)
        day.run(day.plan(shops, 20), people.do)  # everything is read and compiled once
        warm = resident_mb(web)
        found, lasted = day.run(day.plan(shops, minutes * 60), people.do)
        end = resident_mb(web)
    report(found, lasted, alone, warm, end, shops=shops, orders=request.config.getoption("--orders"))
    assert found.errors == []
    assert end <= MOST_GROWTH * warm


def report(found, lasted, alone, warm, end, **about):
    figures = {
        kind: f"{len(taken)} × median {1000 * day.quantile(taken, 0.5):.0f} ms ({day.quantile(taken, 0.5) / alone:.1f} "
        f"bare views), 99th {1000 * day.quantile(taken, 0.99):.0f} ms"
        for kind, taken in found.seconds.items()
        if taken
    }
    every = [one for taken in found.seconds.values() for one in taken]
    measured.keep(
        "load", **about, seconds=round(lasted), answered=len(every), a_second=round(len(every) / lasted, 1),
        errors=len(found.errors), first_errors=found.errors[:3], bare_view_ms=round(1000 * alone, 2),
        median_ms=round(1000 * day.quantile(every, 0.5)), p99_ms=round(1000 * day.quantile(every, 0.99)),
        memory_warm_mb=round(warm), memory_end_mb=round(end), **figures,
    )  # fmt: skip
