"""The app backs itself up by the day, reads what it made, and keeps a few."""

from datetime import UTC, datetime, timedelta
from types import SimpleNamespace
from unittest.mock import Mock

import pytest
from django.db import OperationalError
from django.db.migrations.loader import MigrationLoader

from shop.lib import backup_clock, backups
from shop.lib.archive import BackupError
from shop.lib.backup_clock import BackupClock
from tests.processes import ShopOnDisk
from tests.servers import needs_server

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)


@pytest.fixture
def folder(settings, at_folder, tmp_path):
    at_folder(tmp_path)
    settings.BACKUP_EVERY_HOURS = 24
    return settings.BACKUPS_ROOT


def test_one_is_made_read_again_and_not_made_twice(workshop):
    made = backups.make_due()
    assert made.rows > 100
    assert backups.last_made_at()
    assert backups.make_due() is None
    assert len(list((workshop / "backups").iterdir())) == 1


def test_one_that_cannot_be_read_again_is_no_backup(workshop, monkeypatch):
    def damaged(path, report):
        raise BackupError("The backup is damaged.")

    monkeypatch.setattr(backups, "verify", damaged)
    with pytest.raises(BackupError, match="damaged"):
        backups.make_due()
    assert list((workshop / "backups").iterdir()) == []


def test_seven_days_and_four_weeks_are_kept():
    hours = [NOON - timedelta(hours=12 * n) for n in range(120)]
    gone = set(backups.surplus([(at, at) for at in hours]))
    kept = [at for at in hours if at not in gone]
    assert len({at.date() for at in kept[:7]}) == 7
    assert len({at.isocalendar()[:2] for at in kept}) == 4
    assert len(kept) == 7 + 2  # the newest of the two weeks that the seven days do not reach


def test_those_of_a_clock_that_ran_ahead_let_no_other_one_go(workshop):
    """A month of them, whose days and weeks would fill all places, until somebody set the clock right."""
    backups.settings.BACKUPS_ROOT.mkdir()
    ahead = [NOON + timedelta(days=400 + n) for n in range(30)]
    for at in ahead:
        (backups.settings.BACKUPS_ROOT / at.strftime(backups.NAME)).touch()
    assert backups.all_made(NOON) == []
    made = backups.make_now(now=NOON)
    assert made.path.exists()
    assert [path for _, path in backups.all_made(NOON)] == [made.path]
    assert len(list(backups.settings.BACKUPS_ROOT.iterdir())) == 31


def test_nothing_is_due_where_it_was_switched_off(folder, settings):
    assert backups.is_due(now=NOON)
    settings.BACKUP_EVERY_HOURS = 0
    assert not backups.is_due(now=NOON)


class Clock:
    """A clock that is set by hand, and what the worker started."""

    def __init__(self):
        self.now, self.started, self.code = 0.0, [], None

    def start(self, command):
        self.started.append(command[-2:])
        return SimpleNamespace(poll=lambda: self.code, returncode=self.code)


def test_the_worker_starts_one_when_it_is_due_and_never_two(folder):
    clock = Clock()
    worker = BackupClock(clock=lambda: clock.now, start=clock.start)
    worker.look_after()
    assert clock.started == []
    clock.now = backup_clock.FIRST_AFTER_S
    for _ in range(3):
        worker.look_after()
        clock.now += 3600
    assert clock.started == [["backup", "--due"]]


def test_one_that_failed_is_tried_again_after_an_hour(folder, caplog):
    clock = Clock()
    worker = BackupClock(clock=lambda: clock.now, start=clock.start)
    clock.now = backup_clock.FIRST_AFTER_S
    clock.code = 1
    worker.look_after()
    worker.look_after()
    assert "could not be made" in caplog.text
    clock.now += backup_clock.AGAIN_AFTER_S - 1
    worker.look_after()
    assert len(clock.started) == 1
    clock.now += 1
    worker.look_after()
    assert len(clock.started) == 2


def test_a_server_that_is_away_is_asked_again_at_the_next_look(folder, monkeypatch):
    clock = Clock()
    worker = BackupClock(clock=lambda: clock.now, start=clock.start)
    monkeypatch.setattr(backups, "is_due", Mock(side_effect=[OperationalError("gone"), True]))
    clock.now = backup_clock.FIRST_AFTER_S
    worker.look_after()
    assert clock.started == []
    clock.now += backup_clock.LOOK_EVERY_S
    worker.look_after()
    assert clock.started == [["backup", "--due"]]


MAKE_DUE = """
from django.conf import settings
from shop.lib import backups
made = backups.make_due()
print(bool(made), backups.is_due(), bool(backups.made_elsewhere()))
"""


@needs_server
def test_of_several_machines_on_a_server_one_makes_it(tmp_path):
    """Each with its own data folder and its own folder of backups, all at the same moment."""
    first = ShopOnDisk(tmp_path, on_server=True)
    for name in "abc":
        (tmp_path / name).mkdir()
    machines = [ShopOnDisk(tmp_path / name, on_server=first.environment["DATABASE_URL"]) for name in "abc"]
    running = [one.start(MAKE_DUE) for one in machines]
    said = [one.communicate(timeout=120) for one in running]
    ways = sorted(out.split() for out, _ in said)
    assert ways == [["False", "False", "True"]] * 2 + [["True", "False", "False"]], said
    assert len(list(tmp_path.glob("?/backups/*.zip"))) == 1


@needs_server
def test_one_that_is_lost_with_its_folder_is_made_again(tmp_path):
    shop = ShopOnDisk(tmp_path, on_server=True)
    assert shop.say(MAKE_DUE).startswith("True")
    for path in tmp_path.glob("backups/*.zip"):
        path.unlink()
    assert shop.say(MAKE_DUE).startswith("True")


def test_every_migration_can_be_taken_back_whole():
    """An upgrade on a server is one transaction: no migration may leave it."""
    migrations = MigrationLoader(None).disk_migrations.items()
    assert not [key for key, one in migrations if not one.atomic]
