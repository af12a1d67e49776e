"""One start at a time on a folder. The lock is the kernel's: it ends with the process, however that ends."""

import fcntl
import json
import os
from pathlib import Path

from shop.ground.words import Trouble, say, sentence_for


def take(folder, *, wait_saying=None):
    """Lock `folder` for as long as this process lives, and return whether that was possible.

    wait_saying: what to say before waiting for the other process; without it a taken lock is not waited for.
    """
    try:
        held = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    except OSError as error:
        raise Trouble(sentence_for(error)) from error
    try:
        fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        if wait_saying is None:
            os.close(held)
            return None
        say(wait_saying)
        fcntl.flock(held, fcntl.LOCK_EX)
    return held


def release(held):
    """Let the next one in."""
    os.close(held)


class DataFolderLock:
    """Held by the running workshop from before its first step to its very end; says where it can be reached."""

    def __init__(self, folder):
        self.folder = Path(folder)
        self.note = self.folder / "running.json"
        self.held = take(self.folder)
        if self.held is None:
            raise Trouble(self._who_holds_it())
        self.say_where(None)

    def _who_holds_it(self):
        try:
            noted = json.loads(self.note.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            noted = {}
        by = f" by process {noted['process']}" if noted.get("process") else ""
        doing = f"is already running at {noted['address']}" if noted.get("address") else "is already being started"
        return f"The workshop in {self.folder} {doing}{by}; stop that one first, or choose another folder with --data."

    def say_where(self, address):
        """Note the address for whoever tries to start a second time."""
        noted = {"process": os.getpid(), "address": address}
        self.note.write_text(json.dumps(noted), encoding="utf-8")

    def release(self):
        self.note.unlink(missing_ok=True)
        release(self.held)
