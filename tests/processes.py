"""A shop of its own on disk, and several real processes at work on it at once."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TEMPLATE = []  # the migrated, empty file, made once a session
START = "import django; django.setup()\n"


class ShopOnDisk:
    """A data folder with a migrated SQLite file. `run` runs code in it, each piece in its own process, all at once."""

    def __init__(self, folder, **environment):
        own = {"WORKSHOP_DATA": str(folder), "DJANGO_SETTINGS_MODULE": "shop.settings", "DATABASE_URL": ""}
        self.environment = {**os.environ, **own, **environment}
        self.environment.pop("DATABASE_URL")
        if not TEMPLATE:
            subprocess.run(
                [sys.executable, "manage.py", "migrate", "-v0"], cwd=ROOT, env=self.environment, check=True, timeout=120
            )
            TEMPLATE.append((Path(folder) / "shop.sqlite3").read_bytes())
        Path(folder, "shop.sqlite3").write_bytes(TEMPLATE[0])

    def start(self, code, *arguments):
        return subprocess.Popen(
            [sys.executable, "-c", START + code, *map(str, arguments)],
            cwd=ROOT, env=self.environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )  # fmt: skip

    def run(self, *pieces):
        """The output of each piece, (code, argument, …); raises with its errors when one fails."""
        running = [self.start(*piece) for piece in pieces]
        answers = [process.communicate(timeout=120) for process in running]
        for process, (_, errors) in zip(running, answers, strict=True):
            assert process.returncode == 0, errors
        return [output for output, _ in answers]

    def say(self, code, *arguments):
        return self.run((code, *arguments))[0].rstrip("\n")
