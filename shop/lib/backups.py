"""The backups that the app makes by itself: when one is due, where they lie, and which are kept.

Several machines may share a database server, each with a folder of its own or all with one. They make one backup
between them: the server's lock lets one begin, and what it has made is noted on the server for the others.
"""

import fcntl
import os
import socket
from contextlib import contextmanager, nullcontext
from datetime import UTC, datetime, timedelta

from django.conf import settings
from django.core.cache import cache

from shop.lib import archive, server_lock
from shop.lib.archive import BackupError
from shop.lib.backup import make_backup
from shop.lib.restore import verify

NAME = "workshop-%Y%m%d-%H%M%S.zip"
KEPT_DAYS = 7  # the newest of each of so many days
KEPT_WEEKS = 4  # and of each of so many weeks
LOCK = 7_240_612
NOTE = "the-last-backup"  # if the cache should ever let it go, a machine makes one more than it had to
FAR_AHEAD = timedelta(hours=1)  # a backup dated later than this was made by a clock that went wrong


def made_at(path):
    """When a backup of ours was made, by its name; None for any other file."""
    try:
        return datetime.strptime(path.name, NAME).replace(tzinfo=UTC)
    except ValueError:
        return None


def all_made(now=None):
    """Our own backups as (time, path), the newest first, without those of a clock that went wrong.

    Those stay where they are: they are nobody's newest, and let no other one go.
    """
    found = settings.BACKUPS_ROOT.glob("*.zip") if settings.BACKUPS_ROOT.is_dir() else ()
    return sorted(
        ((made, path) for path in found if (made := made_at(path)) and not is_ahead(made, now)), reverse=True
    )  # fmt: skip


def is_ahead(made, now=None):
    """Whether a backup bears a time that is still to come."""
    return made > (now or datetime.now(UTC)) + FAR_AHEAD


def last_made_at():
    """When the newest backup was made, or None."""
    made = all_made()
    return made[0][0] if made else None


def made_elsewhere(now=None):
    """When another machine made the newest backup, and which, as (time, name); None where there is no other."""
    noted = None if archive.is_one_file() else cache.get(NOTE)
    if noted is None or noted["place"] == place() or is_ahead(noted["at"], now):
        return None
    return noted["at"], noted["machine"]


def place():
    return f"{socket.gethostname()}:{settings.BACKUPS_ROOT}"


def note(at):
    if not archive.is_one_file():
        cache.set(NOTE, {"at": at, "machine": socket.gethostname(), "place": place()}, timeout=None)


def share_a_disk():
    """Whether the backups lie, as far as the system tells, on the very disk whose loss they are for."""
    place = settings.BACKUPS_ROOT
    while not place.exists() and place != place.parent:
        place = place.parent
    return place.stat().st_dev == settings.DATA_DIR.stat().st_dev


def is_due(*, now=None):
    """Whether the newest backup is too old. Without any there is one to make."""
    now = now or datetime.now(UTC)
    if not settings.BACKUP_EVERY_HOURS:
        return False
    made = [at for at, _ in filter(None, [*all_made(now), made_elsewhere(now)])]
    return not made or now - max(made) >= timedelta(hours=settings.BACKUP_EVERY_HOURS)


def make_due(report=lambda text: None):
    """Make the backup that is due, read it again whole, and let old ones go. None when it is not due any more."""
    settings.BACKUPS_ROOT.mkdir(mode=0o700, parents=True, exist_ok=True)
    with only_one():
        return make_now(report) if is_due() else None


def make_now(report=lambda text: None, *, now=None):
    now = now or datetime.now(UTC)
    settings.BACKUPS_ROOT.mkdir(mode=0o700, parents=True, exist_ok=True)
    made = make_backup(settings.BACKUPS_ROOT / now.strftime(NAME), report)
    try:
        verify(made.path, report)
    except BackupError:
        made.path.unlink()
        raise
    note(now)
    for path in surplus(all_made(now)):
        path.unlink(missing_ok=True)
    return made


def surplus(made):
    """Of (time, path) the newest first: those beyond the newest of each of the last days and weeks."""
    kept, days, weeks = set(), [], []
    for at, path in made:
        for slot, slots, most in ((at.date(), days, KEPT_DAYS), (at.isocalendar()[:2], weeks, KEPT_WEEKS)):
            if slot not in slots and len(slots) < most:
                slots.append(slot)
                kept.add(path)
    return [path for _, path in made if path not in kept]


@contextmanager
def only_one():
    """Two workers never make the same backup; the lock is the kernel's, or the server's, and goes with the process."""
    held = os.open(settings.BACKUPS_ROOT, os.O_RDONLY | os.O_DIRECTORY)
    try:
        fcntl.flock(held, fcntl.LOCK_EX)
        with nullcontext() if archive.is_one_file() else server_lock.held(LOCK):
            yield
    finally:
        os.close(held)
