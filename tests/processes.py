"""A shop of its own on disk, and several real processes at work on it at once."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from tests import migrated
from tests.servers import has_server, new_database

ROOT = Path(__file__).resolve().parent.parent
START = "import django; django.setup()\n"


def on_sqlite():
    """The environment without the server that the tests may run on, and what browser tests ask of Django."""
    own = ("DATABASE_URL", "DJANGO_ALLOW_ASYNC_UNSAFE")
    return {name: value for name, value in os.environ.items() if name not in own}


def manage(folder, *arguments, **environment):
    """Run a command of manage.py on a data folder's own SQLite file, unless a DATABASE_URL is given."""
    return run_manage({**on_sqlite(), "WORKSHOP_DATA": str(folder), **environment}, *arguments)


def run_manage(environment, *arguments):
    command = [sys.executable, "manage.py", *map(str, arguments)]
    return subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False, timeout=120)


class ShopOnDisk:
    """A data folder with a migrated, empty database. `run` runs code in it, each piece in its own process, all at once.

    on_server: False for a SQLite file, True for a new database on the tests' server, or the address of one that is
    there already; None for what the tests run on.
    """

    patience = 120  # seconds for one piece

    def __init__(self, folder, *, on_server=None, **environment):
        own = {"WORKSHOP_DATA": str(folder), "DJANGO_SETTINGS_MODULE": "shop.settings"}
        self.environment = {**on_sqlite(), **own, **environment}
        if on_server is None:
            on_server = has_server
        if isinstance(on_server, str):
            self.environment["DATABASE_URL"] = on_server
        elif on_server:
            self.environment["DATABASE_URL"] = new_database(migrated.on_server())
        else:
            shutil.copyfile(migrated.file(), Path(folder, "shop.sqlite3"))

    @classmethod
    def at(cls, folder):
        """A shop on a SQLite file that something else is to make."""
        shop = cls.__new__(cls)
        shop.environment = {**on_sqlite(), "WORKSHOP_DATA": str(folder), "DJANGO_SETTINGS_MODULE": "shop.settings"}
        return shop

    def manage(self, *arguments):
        return run_manage(self.environment, *arguments)

    def start(self, code, *arguments):
        return subprocess.Popen(
            [sys.executable, "-c", START + code, *map(str, arguments)],
            cwd=ROOT, env=self.environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )  # fmt: skip

    def run(self, *pieces):
        """The output of each piece, (code, argument, …); raises with its errors when one fails."""
        running = [self.start(*piece) for piece in pieces]
        answers = [process.communicate(timeout=self.patience) for process in running]
        for process, (_, errors) in zip(running, answers, strict=True):
            assert process.returncode == 0, errors
        return [output for output, _ in answers]

    def say(self, code, *arguments):
        return self.run((code, *arguments))[0].rstrip("\n")
