"""`python -m tests.load.keeping`: what keeping the workshop that is set takes, bringing it back, and carrying it over.

Backup while people work in it, restore into an empty place with every check, everything as tables, and SQLite copied
over to a PostgreSQL server of our own. Each is a process of its own, so that its peak of memory is its own.
"""

import argparse
import contextlib
import os
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
django.setup()

from shop.figures.demo import cast  # noqa: E402 (some of it needs the settings)
from shop.ground.postgres import PrivateServer, programs  # noqa: E402
from tests import measured  # noqa: E402
from tests.faults.counter import Counter  # noqa: E402
from tests.processes import ROOT  # noqa: E402
from tests.running_shop import RunningShop  # noqa: E402

LONGEST_S = 7200  # until a shop that hangs is ended
PAUSE_S = 0.25  # between one thing done at the counter and the next
# A process counts what its parent held when it began as its own peak: this one, between the two, is small.
PEAK_OF = """
import os, subprocess, sys
child = subprocess.Popen(sys.argv[1:], stdout=subprocess.DEVNULL)
_, status, used = os.wait4(child.pid, 0)
print(used.ru_maxrss)
sys.exit(os.waitstatus_to_exitcode(status))
"""
MANAGE = (sys.executable, "manage.py")
NOTHING = (sys.executable, "-c", "import django; django.setup()")
VERIFY = (sys.executable, "-c", "import django, sys; django.setup(); from shop.lib.restore import verify; "
          "verify(sys.argv[1])")  # fmt: skip
EXPORT = (sys.executable, "-c", """
import sys
from tests.load.pages import owner_client
with open(sys.argv[1], "wb") as file:
    for piece in owner_client().get("/office/data/everything.zip").streaming_content:
        file.write(piece)
""")  # fmt: skip


def taken(environment, *command):
    """(seconds, peak of memory in MB) of a command, which has to succeed."""
    began = time.monotonic()
    done = subprocess.run(
        [sys.executable, "-c", PEAK_OF, *map(str, command)], cwd=ROOT, env=environment, stdout=subprocess.PIPE,
        text=True, check=False,
    )  # fmt: skip
    if done.returncode:
        raise SystemExit(f"{' '.join(map(str, command[1:3]))} failed.")
    return time.monotonic() - began, int(done.stdout) / 1000


def said(figures, made=None):
    seconds, peak = figures
    size = f"{size_mb(made):.0f} MB, " if made else ""
    return f"{seconds:.1f} s, {size}peak of memory {peak:.0f} MB"


def size_mb(path):
    files = path.rglob("*") if path.is_dir() else [path]
    return sum(one.stat().st_size for one in files if one.is_file()) / 1e6


class AtWork:
    """Somebody at the counter, one thing after the other, until it is over; keeps how long each took."""

    def __init__(self, address):
        self.counter = Counter(address).sign_in("ilse", cast.PASSWORD)
        self.over, self.seconds, self.failed = threading.Event(), [], []

    def _work(self):
        while not self.over.wait(PAUSE_S):
            began = time.monotonic()
            try:
                self.counter.book_in()
            except Exception as error:  # noqa: BLE001 (whatever it was, it is counted)
                self.failed.append(str(error))
            self.seconds.append(time.monotonic() - began)

    @contextlib.contextmanager
    def working(self):
        worker = threading.Thread(target=self._work, daemon=True)
        worker.start()
        try:
            yield self
        finally:
            self.over.set()
            worker.join()


def backed_up(environment, kept):
    """The figures of a backup that is made while somebody books in."""
    data = environment["WORKSHOP_DATA"]
    more = {name: value for name, value in environment.items() if name.startswith(("WORKSHOP_", "DATABASE_URL"))}
    shop = RunningShop(data, longest=LONGEST_S, **{**more, "WORKSHOP_BACKUP_EVERY_HOURS": "0"})
    with shop, AtWork(shop.wait_until_open()).working() as person:
        figures = taken(environment, *MANAGE, "backup", kept)
    return {
        "backup": said(figures, kept), "booked in meanwhile": len(person.seconds),
        "slowest of them": f"{max(person.seconds, default=0):.2f} s", "failed": person.failed[:3] or 0,
    }  # fmt: skip


def own_server():
    """A server of our own with its usual care for the disk; it ends with the block."""
    return PrivateServer(settings=())


def brought_back(environment, kept, folder):
    """The figures of a restore onto the same kind of database, which is empty."""
    with own_server() if environment.get("DATABASE_URL") else contextlib.nullcontext() as server:
        database = {"DATABASE_URL": server.url} if server else {}
        figures = taken({**environment, "WORKSHOP_DATA": str(folder), **database}, *MANAGE, "restore", kept)
    return said(figures)


def copied_over(environment):
    source = Path(environment["WORKSHOP_DATA"], "shop.sqlite3")
    with own_server() as server, tempfile.TemporaryDirectory() as empty:
        there = {**environment, "WORKSHOP_DATA": empty, "DATABASE_URL": server.url}
        return said(taken(there, *MANAGE, "copy_over", source))


def measure(environment, work):
    """(what, figure), each as soon as it is known: all of it takes an hour and more of a large workshop."""
    is_on_server = bool(environment.get("DATABASE_URL"))
    kept, table = work / "kept.zip", work / "everything.zip"
    yield "database", "postgresql" if is_on_server else "sqlite"
    yield "a command that does nothing", said(taken(environment, *NOTHING))
    yield from backed_up(environment, kept).items()
    yield "reading it again", said(taken(environment, *VERIFY, kept))
    yield "restore", brought_back(environment, kept, work / "back")
    yield "everything as tables", said(taken(environment, *EXPORT, table), table)
    if not is_on_server:
        yield "the SQLite file", f"{size_mb(Path(environment['WORKSHOP_DATA'], 'shop.sqlite3')):.0f} MB"
        if programs():
            yield "copying over to PostgreSQL", copied_over(environment)


def main():
    parser = argparse.ArgumentParser(prog="python -m tests.load.keeping", description=__doc__)
    parser.add_argument("--work", type=Path, help="a folder for what is made on the way; about three workshops")
    asked = parser.parse_args()
    data = os.environ.get("WORKSHOP_DATA")
    if not data:
        parser.error("set WORKSHOP_DATA to the data folder of a workshop that tests.load built")
    environment = {**os.environ, "DJANGO_SETTINGS_MODULE": "shop.settings", "WORKSHOP_DATA": str(Path(data).resolve())}
    with tempfile.TemporaryDirectory(dir=asked.work) as work:
        figures = {}
        for what, figure in measure(environment, Path(work)):
            figures[what] = figure
            sys.stdout.write(f"{what}: {figure}\n")
            sys.stdout.flush()
        measured.keep("keeping", **figures)


if __name__ == "__main__":
    main()
