"""A PostgreSQL server of our own for tests: in a temporary folder, reached by a socket in it alone, gone at the end."""

import contextlib
import os
import pwd
import shutil
import signal
import subprocess
import tempfile
import time
from pathlib import Path
from urllib.parse import quote

from shop.ground import steps
from shop.ground.words import Trouble, last_line

DEBIANS = Path("/usr/lib/postgresql")
UNPRIVILEGED = "postgres"  # made by Debian's package; the server refuses to run as root
DATABASE = "workshop"
PATIENCE_S = 60
# The data is thrown away: nothing need reach the disk. What is tested for survival asks for the opposite.
THROWN_AWAY = ("fsync=off", "synchronous_commit=off", "full_page_writes=off", "autovacuum=off")


def programs():
    """The folder of the newest server's programs, or None."""
    if found := sorted(DEBIANS.glob("*/bin/initdb"), key=lambda path: int(path.parts[-3])):
        return found[-1].parent
    by_path = shutil.which("initdb")
    return Path(by_path).resolve().parent if by_path else None


class PrivateServer:
    """Start it with `start`, end it with `close`; in between it may be stopped and started."""

    def __init__(self, *, settings=THROWN_AWAY):
        self.settings = settings
        self.process = None
        self.user = UNPRIVILEGED if os.geteuid() == 0 else pwd.getpwuid(os.geteuid()).pw_name
        self.folder = Path(tempfile.mkdtemp(prefix="workshop-database-"))
        if os.geteuid() == 0:
            shutil.chown(self.folder, self.user)
        self._run("initdb", "-D", self.data, "-U", DATABASE, "-A", "trust", "-E", "UTF8", "--no-locale", "--no-sync")

    @property
    def data(self):
        return self.folder / "data"

    @property
    def url(self):
        """What DATABASE_URL must be."""
        return self.url_of(DATABASE)

    def url_of(self, database):
        return f"postgres://{DATABASE}@{quote(str(self.folder), safe='')}/{database}"

    def start(self):
        asked = [word for setting in self.settings for word in ("-c", setting)]
        command = [programs() / "postgres", "-D", self.data, "-k", self.folder, "-c", "listen_addresses=", *asked]
        with (self.folder / "log").open("ab") as log:
            self.process = steps.start(list(map(str, command)), stdout=log, stderr=log, **self._as_user())
        self._wait()
        if not self._answers(DATABASE):
            self.make(DATABASE)
        return self

    def make(self, database):
        """A new, empty database on this server; returns its address."""
        self._run("createdb", "-h", self.folder, "-U", DATABASE, database)
        return self.url_of(database)

    def stop(self, how=signal.SIGINT):
        """SIGINT ends it cleanly and at once, whoever is connected; SIGQUIT as if the power had gone."""
        if self.process and self.process.poll() is None:
            self.process.send_signal(how)
            self.process.wait(PATIENCE_S)

    def close(self):
        try:
            self.stop()
        finally:
            shutil.rmtree(self.folder, ignore_errors=True)

    def __enter__(self):
        return self.start()

    def __exit__(self, *exception):
        self.close()

    def _as_user(self):
        return {"user": self.user, "group": self.user, "extra_groups": []} if os.geteuid() == 0 else {}

    def _run(self, program, *arguments):
        command = [str(programs() / program), *map(str, arguments)]
        done = subprocess.run(
            command, cwd=self.folder, capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL,
            **self._as_user(),
        )  # fmt: skip
        if done.returncode:
            raise Trouble(f"PostgreSQL's {program} failed: {last_line(done.stderr)}.")

    def _answers(self, database):
        ask = [str(programs() / "psql"), "-h", str(self.folder), "-U", DATABASE, "-d", database, "-c", "SELECT 1"]
        return subprocess.run(ask, capture_output=True, check=False, stdin=subprocess.DEVNULL).returncode == 0

    def _wait(self):
        ends = time.monotonic() + PATIENCE_S
        while not self._answers("postgres"):
            with contextlib.suppress(subprocess.TimeoutExpired):
                self.process.wait(0.05)
            if self.process.poll() is not None or time.monotonic() > ends:
                said = (self.folder / "log").read_text(encoding="utf-8", errors="replace")
                self.close()
                raise Trouble(f"PostgreSQL did not start: {last_line(said)}.")
