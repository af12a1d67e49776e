"""Busy shops at once, on one machine or several with years of orders: nothing fails, memory stays where it is."""

import contextlib
import json
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest

from shop.ground.postgres import PrivateServer
from tests import measured, servers
from tests.faults.counter import Counter, NoAnswer
from tests.load import day
from tests.load.memory import Watch
from tests.load.people import People
from tests.processes import ROOT, on_sqlite
from tests.running_shop import RunningShop

MOST_GROWTH = 1.2  # of memory, from the first third to the end
USUAL = ()  # settings of the server: its own, so that each commit reaches the disk before it is answered


def module(name, environment, *arguments):
    """What `python -m NAME` prints in this environment; building a workshop says how far it is."""
    shown = None if arguments else subprocess.PIPE
    done = subprocess.run(
        [sys.executable, "-m", name, *arguments], cwd=ROOT, check=True, env={**on_sqlite(), **environment},
        stdout=shown, text=True,
    )  # fmt: skip
    return done.stdout


@pytest.fixture(scope="module")
def big(request, tmp_path_factory):
    """The environment of a workshop of many years: one that was built before, or one that is built now."""
    asked, on_server = request.config.getoption, servers.has_server
    if asked("--shop"):
        database = {"DATABASE_URL": servers.SERVER} if on_server else {}
        yield {"WORKSHOP_DATA": str(Path(asked("--shop")).resolve()), **database}
        return
    with PrivateServer(settings=USUAL) if on_server else contextlib.nullcontext() as server:
        database = {"DATABASE_URL": server.url} if server else {}
        environment = {"WORKSHOP_DATA": str(tmp_path_factory.mktemp("big")), **database}
        size = ["--orders", str(asked("--orders")), "--customers", str(asked("--customers"))]
        module("tests.load", environment, *size)
        yield environment


@contextlib.contextmanager
def open_shops(big, count, folders, longest):
    """So many machines of one workshop, as the README sets them up: its database, its files and its key are shared."""
    first = Path(big["WORKSHOP_DATA"])
    shared = {
        "WORKSHOP_BACKUP_EVERY_HOURS": "0", "WORKSHOP_FILES": str(first / "files"),
        "WORKSHOP_SECRET_KEY_FILE": str(first / "secret-key"),
        **{name: value for name, value in big.items() if name == "DATABASE_URL"},
    }  # fmt: skip
    with contextlib.ExitStack() as stack:
        shops = []
        for number in range(count):
            folder = folders / f"machine-{number}" if number else first
            shops.append(stack.enter_context(RunningShop(folder, longest=longest, **shared)))
            shops[-1].wait_until_open()
        yield shops


def processes(shops):
    """{what it is: its number} of all that the shops run."""
    return {
        f"{kind}_{place}": number
        for place, shop in enumerate(shops, start=1)
        for number, command in shop.children().items()
        for kind, word in (("web", "shop.serve"), ("mail", "send_mail"))
        if word in command
    }


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


def test_a_busy_day(big, request, tmp_path):
    minutes, shops = request.config.getoption("--minutes"), request.config.getoption("--shops")
    machines = request.config.getoption("--machines") if "DATABASE_URL" in big else 1
    with open_shops(big, machines, tmp_path, 600 + 60 * minutes) as running, bare_server() as bare:
        known = json.loads(module("tests.load.known", big))
        people = People([shop.address for shop in running], known)
        alone = bare_median(bare)
        warming = day.plan(shops, 20, at_most={"ready": len(known["checked"]) // 2})
        day.run(warming, people.do)  # everything is read and compiled once
        due = day.plan(shops, minutes * 60, at_most={"ready": len(people.checked)})
        with Watch(processes(running)).looking() as memory:
            found, lasted = day.run(due, people.do)
    report(found, lasted, alone, memory, database="postgresql" if "DATABASE_URL" in big else "sqlite",
           machines=machines, shops=shops, orders=known["how_many"])  # fmt: skip
    assert found.errors == []
    assert {name: ratio for name, ratio in memory.grown().items() if ratio > MOST_GROWTH} == {}


def report(found, lasted, alone, memory, **about):
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
        **memory.figures(), **figures,
    )  # fmt: skip
