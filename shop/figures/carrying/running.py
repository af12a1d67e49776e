"""A long table read in beside the page that waits for it: how far it is, and a way to stop it.

One thread looks the file through once more and writes it, all in one transaction, so that whatever ends it early (the
button, an error, the power) leaves nothing behind. What it says of itself lies beside the kept file, where every
process of the shop finds it; the database could not tell, since nobody sees what is not committed.
"""

import json
import logging
import threading
import time
from dataclasses import dataclass

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import connection

from shop.figures.carrying import importing
from shop.figures.carrying.reading import FileRefused
from shop.staff.models import Person, Workshop
from shop.staff.zone import in_workshop

LOG = logging.getLogger(__name__)
LONG = 1_000  # rows; fewer are written while the page loads
MOMENT_S = 0.05
SILENT_S = 60  # a run that has said nothing for so long was cut off
LOOKING, WRITING, DONE, STOPPED, REFUSED = "looking", "writing", "done", "stopped", "refused"


class Stopped(Exception):
    """Somebody pressed the button."""


@dataclass(frozen=True)
class Progress:
    """How far a run is. `said` is a sentence once it has ended."""

    stage: str
    done: int = 0
    of: int = 0
    said: str = ""
    at: float = 0.0

    @property
    def is_running(self):
        return self.stage in (LOOKING, WRITING)

    @property
    def share(self):
        """Of the whole, in hundredths: looking through takes the first half."""
        part = 50 * self.done // self.of if self.of else 0
        return part + (50 if self.stage == WRITING else 0)


def begin(kind, name, *, by, branch=None):
    """Start reading the kept file `name` in; what lies there, lies at `branch`. Returns at once."""
    _say(name, Progress(LOOKING))
    thread = threading.Thread(target=_run, args=(kind, name, by.pk, branch), name=f"import of {kind}", daemon=True)
    thread.start()
    return thread


def progress_of(name):
    """The Progress of a run, or None when there is none of that name."""
    found = _told(name) or _told(name)  # between two of its words the file is not there for a moment
    if found is None:
        return None
    if found.is_running and time.time() - found.at > SILENT_S:
        return Progress(STOPPED, said="It was cut off, and nothing was written. Choose the file again.")
    return found


def _told(name):
    try:
        with default_storage.open(f"{name}.progress") as file:
            return Progress(**json.load(file))
    except (OSError, ValueError, TypeError):
        time.sleep(MOMENT_S)
        return None


def stop(name):
    """Ask a run to stop; it does at the next row that it comes to, and nothing is written."""
    _put(f"{name}.stop", "")


def forget(name):
    for ending in ("", ".progress", ".stop"):
        importing.forget(f"{name}{ending}")


def _run(kind, name, by, branch):
    try:
        with in_workshop(Workshop.here()) as workshop:
            said = _read_in(kind, name, workshop, Person.objects.get(pk=by), branch)
        _say(name, Progress(DONE, said=said))
    except Stopped:
        _say(name, Progress(STOPPED, said="Stopped. Nothing was written."))
    except (FileRefused, NoMore) as refusal:
        _say(name, Progress(REFUSED, said=str(refusal)))
    except Exception:
        LOG.exception("an import failed")
        _say(name, Progress(REFUSED, said="Something went wrong, and nothing was written. Choose the file again."))
    finally:
        connection.close()


class NoMore(Exception):
    """The message is a sentence for people."""


def _read_in(kind, name, workshop, by, branch):
    checked = importing.check(kind, importing.kept(name), workshop=workshop, report=_report(name, LOOKING))
    if not checked.may_be_written:
        raise NoMore("Somebody wrote some of these meanwhile. Nothing was written; look the file through again.")
    count = importing.write(checked, by=by, branch=branch, report=_report(name, WRITING))
    return f"{count} {checked.readable.title.lower()} read in."


def _report(name, stage):
    def report(done, of):
        if default_storage.exists(f"{name}.stop"):
            raise Stopped
        _say(name, Progress(stage, done, of))

    return report


def _say(name, progress):
    _put(f"{name}.progress", json.dumps(progress.__dict__ | {"at": time.time()}))


def _put(name, text):
    """Write a small file anew; a reader finds the old one or the new one."""
    if default_storage.exists(name):
        default_storage.delete(name)
    default_storage.save(name, ContentFile(text.encode()))
