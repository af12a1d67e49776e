"""How the installation is: for the owner's page and for a monitor. Rooms above append their own checks to `CHECKS`.

A check is a function without arguments that gives a Check; whatever it raises counts as bad, and is not hidden.
"""

import shutil
import time
from dataclasses import dataclass, field
from datetime import timedelta

import django
from django.conf import settings
from django.db import DatabaseError, connection
from django.utils import timezone

from shop.ground.data_folder import release_fingerprint
from shop.lib import backups

GOOD, LOW, BAD = "good", "look at it", "bad"
SAME_DISK = (
    "Backups lie on the disk of the data itself: if it breaks, both are gone. "
    "Set WORKSHOP_BACKUPS to a folder on another one."
)
DISK_LOW, DISK_BAD = 2_000_000_000, 300_000_000  # bytes free


@dataclass(frozen=True)
class Check:
    """`state` is GOOD, LOW or BAD; `says` a sentence for the owner, `figures` for a monitor."""

    name: str
    state: str
    says: str
    figures: dict = field(default_factory=dict)

    @property
    def urgency(self):
        """Where it stands among others: what is bad comes first."""
        return (BAD, LOW, GOOD).index(self.state)


def database():
    began = time.perf_counter()
    with connection.cursor() as cursor:
        cursor.execute("SELECT count(*) FROM django_migrations")
        cursor.fetchone()
    took_ms = round((time.perf_counter() - began) * 1000, 1)
    return Check("database", GOOD, f"It answers in {took_ms} ms ({connection.display_name}).", {"ms": took_ms})


def disk():
    usage = shutil.disk_usage(settings.DATA_DIR)
    state = BAD if usage.free < DISK_BAD else LOW if usage.free < DISK_LOW else GOOD
    says = f"{usage.free / 1e9:.1f} GB of {usage.total / 1e9:.1f} GB are free where the data lies."
    return Check("disk", state, says, {"free_bytes": usage.free, "total_bytes": usage.total})


def backup():
    last, every = backups.last_made_at(), settings.BACKUP_EVERY_HOURS
    if not every:
        return Check("backup", LOW, "The app makes no backups by itself here; see that something else does.")
    elsewhere = backups.made_elsewhere()
    if elsewhere and (last is None or last < elsewhere[0]):
        return _backup_elsewhere(*elsewhere)
    shared = backups.share_a_disk()
    risk = f" {SAME_DISK}" if shared else ""
    if last is None:
        return Check("backup", LOW, f"No backup has been made yet; the first comes within the hour.{risk}")
    hours, is_old = _age_of(last)
    state = BAD if is_old else LOW if shared else GOOD
    says = f"The last one was made {hours} hours ago and lies in {settings.BACKUPS_ROOT}.{risk}"
    return Check("backup", state, says, {"age_hours": hours, "same_disk": shared})


def _backup_elsewhere(at, machine):
    """Of several machines on one database server another one made the last."""
    hours, is_old = _age_of(at)
    says = f"The last one was made {hours} hours ago by the machine {machine}, and lies there."
    return Check("backup", BAD if is_old else GOOD, says, {"age_hours": hours})


def _age_of(made):
    """The age of a backup in hours, and whether one should have followed it."""
    age = max(timezone.now() - made, timedelta(0))
    is_old = age > timedelta(hours=2 * settings.BACKUP_EVERY_HOURS + 1)
    return round(age.total_seconds() / 3600, 1), is_old


def version():
    release = release_fingerprint()[:12]
    return Check("version", GOOD, f"Release {release}, Django {django.get_version()}.", {"release": release})


CHECKS = [database, disk, backup, version]


def look():
    """[Check] of everything."""
    return [_safely(check) for check in CHECKS]


def _safely(check):
    try:
        return check()
    except (DatabaseError, OSError) as error:
        return Check(check.__name__, BAD, f"It could not be looked at: {type(error).__name__}.")


def worst(checks):
    states = [one.state for one in checks]
    return next(state for state in (BAD, LOW, GOOD) if state in states)
