"""The data folder: made, checked, and brought up to what this version of the program expects."""

import contextlib
import os
import shutil
import time
from pathlib import Path

from shop.ground import stamps, steps
from shop.ground.places import PYTHON, ROOT, child_environment
from shop.ground.words import Trouble, cause_of, sentence_for, step

NEEDED_MB = 20
SIGN_INS = "first-sign-ins.txt"


def open_folder(folder):
    """Make the folder if need be and see that it can be worked in, before anything that takes time."""
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        trial = folder / f".trial-{os.getpid()}"
        trial.write_bytes(b"1")
        trial.unlink()
    except (FileExistsError, NotADirectoryError) as error:
        raise Trouble(f"{error.filename} is not a folder: choose another one with --data.") from error
    except OSError as error:
        error.filename = folder
        raise Trouble(sentence_for(error)) from error
    for path in folder.glob("shop.sqlite3*"):
        if not os.access(path, os.R_OK | os.W_OK):
            raise Trouble(f"You may not write to {path}: start as its owner, or have its owner give you the right.")
    free_mb = shutil.disk_usage(folder).free // 1_000_000
    if free_mb < NEEDED_MB:
        raise Trouble(f"The disk is full: {NEEDED_MB} MB are needed in {folder}, and {free_mb} MB are free.")


def release_fingerprint():
    """Changes whenever the data or the collected static files may have to be brought up to date."""
    migrations = sorted(ROOT.glob("shop/*/migrations/*.py"))
    served = [path for path in sorted(ROOT.glob("static/**/*")) if path.is_file()]
    seen = [(str(path.relative_to(ROOT)), path.stat().st_size, path.stat().st_mtime_ns) for path in served]
    return stamps.fingerprint(ROOT / "requirements.txt", *migrations, seen, os.environ.get("DATABASE_URL", ""))


class DataFolder:
    """One workshop's data, and what has been done to set it up."""

    def __init__(self, folder, environment):
        self.folder = Path(folder)
        self.log = self.folder / "logs" / "set-up.log"
        self.environment = child_environment(**environment)
        self.stamp = self.folder / "set-up.json"

    def prepare(self, *, with_demo):
        """Migrate, collect static files and, on the very first start, fill the workshop.

        Each finished step is noted, so that a set-up that was cut off goes on where it was. Returns what the first
        start said about signing in, if this was it.
        """
        done = stamps.read(self.stamp)
        release = release_fingerprint()
        if done.get("release") != release or not self._database_is_there():
            self._manage("Preparing the database", "upgrade")
            self._manage("Collecting the static files", "collectstatic", "--noinput", "--clear")
            done["release"] = release
            self._note(done)
        if done.get("first_start"):
            return ""
        said = self._fill(with_demo)
        done["first_start"] = time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime())
        self._note(done)
        return said

    def _database_is_there(self):
        """Whether the database is as the stamp left it. One on a server may have been exchanged, so it is asked."""
        return not self.environment.get("DATABASE_URL") and (self.folder / "shop.sqlite3").exists()

    def _fill(self, with_demo):
        if not with_demo:
            return self._manage("Making the owner's sign-in", "first_start")
        said = self._manage("Filling the demo workshop with two years of work and its papers", "first_start", "--demo")
        with contextlib.suppress(OSError):
            path = self.folder / SIGN_INS
            path.touch(mode=0o600)
            path.write_text(said, encoding="utf-8")
        return said

    def demo_sign_ins(self):
        """What the demo workshop said about signing in, or nothing."""
        try:
            return (self.folder / SIGN_INS).read_text(encoding="utf-8")
        except OSError:
            return ""

    def _manage(self, title, *arguments):
        command = [str(PYTHON), "manage.py", *arguments]
        with step(title):
            outcome = steps.run(command, environment=self.environment, log=self.log)
            if not outcome.well:
                raise Trouble(f"{title} failed: {cause_of(outcome.output)}. {self.log} has the whole story.")
        return outcome.output

    def _note(self, done):
        try:
            stamps.write(self.stamp, done)
        except OSError as error:
            raise Trouble(sentence_for(error)) from error
