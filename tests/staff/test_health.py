"""Health for the owner and for a monitor."""

import shutil
from collections import namedtuple
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.db import OperationalError
from django.utils import timezone

from shop.handover.models import MailState, OutgoingMail
from shop.lib import backups
from shop.staff import health

pytestmark = pytest.mark.django_db
Usage = namedtuple("Usage", "total used free")
TOKEN = {"Authorization": "Bearer figures please"}


@pytest.fixture(autouse=True)
def good(settings, monkeypatch):
    settings.MONITOR_TOKEN = "figures please"
    settings.BACKUP_EVERY_HOURS = 24
    monkeypatch.setattr(backups, "last_made_at", lambda: datetime.now(UTC) - timedelta(hours=3))
    monkeypatch.setattr(shutil, "disk_usage", lambda _: Usage(100e9, 50e9, 50e9))
    monkeypatch.setattr(backups, "share_a_disk", lambda: False)


def state_of(client, name):
    return client.get("/health/", headers=TOKEN).json()["checks"][name]["state"]


def test_a_stranger_learns_good_or_bad_and_nothing_else(client):
    answer = client.get("/health/")
    assert (answer.status_code, answer.json()) == (200, {"status": "good"})
    assert client.get("/health/", headers={"Authorization": "Bearer guess"}).json() == {"status": "good"}


def test_without_a_token_set_none_opens_it(client, settings):
    settings.MONITOR_TOKEN = ""
    assert "checks" not in client.get("/health/", headers={"Authorization": "Bearer "}).json()


def test_a_monitor_gets_figures(client):
    checks = client.get("/health/", headers=TOKEN).json()["checks"]
    assert set(checks) == {"database", "disk", "backup", "version", "mail"}
    assert checks["backup"]["age_hours"] == 3.0
    assert checks["disk"]["free_bytes"] == 50e9


@pytest.mark.parametrize(("free", "state", "status"), [(1e9, "look at it", 200), (1e8, "bad", 503)])
def test_a_disk_that_fills(client, monkeypatch, free, state, status):
    monkeypatch.setattr(shutil, "disk_usage", lambda _: Usage(100e9, 0, free))
    assert state_of(client, "disk") == state
    assert client.get("/health/").status_code == status


@pytest.mark.parametrize(("hours", "state"), [(30, "good"), (80, "bad"), (None, "look at it"), (-0.5, "good")])
def test_the_age_of_the_backup(client, monkeypatch, hours, state):
    made = hours and datetime.now(UTC) - timedelta(hours=hours)
    monkeypatch.setattr(backups, "last_made_at", lambda: made)
    assert state_of(client, "backup") == state
    assert "made -" not in health.backup().says


@pytest.mark.parametrize(("hours", "state"), [(3, "good"), (60, "bad")])
def test_a_backup_that_another_machine_made(client, monkeypatch, hours, state):
    """Of several on one database server one makes it; the newest counts, wherever it lies."""
    now = datetime.now(UTC)
    monkeypatch.setattr(backups, "made_elsewhere", lambda: (now - timedelta(hours=hours), "bench-2"))
    monkeypatch.setattr(backups, "last_made_at", lambda: now - timedelta(hours=90))
    assert state_of(client, "backup") == state
    assert f"{hours}.0 hours ago by the machine bench-2" in health.backup().says


def test_mail_that_nobody_sends(client):
    OutgoingMail.objects.create(
        name="ready", to="x@example.com", sender="w@example.com", subject="Ready", text="", message_id="<1@x>",
        state=MailState.WAITING, next_try_at=timezone.now() - timedelta(hours=1), queued_at=timezone.now(),
    )  # fmt: skip
    assert state_of(client, "mail") == "bad"


def test_a_database_that_does_not_answer_is_bad_and_no_500(client, monkeypatch):
    def away():
        raise OperationalError("password authentication failed for user 'workshop'")

    away.__name__ = "database"
    monkeypatch.setattr(health, "CHECKS", [away])
    answer = client.get("/health/", headers=TOKEN)
    assert (answer.status_code, answer.json()["checks"]) == (503, {"database": {"state": "bad"}})


def test_the_owner_reads_it_and_nobody_else(as_person, ada, ben, cleo):
    page = as_person(ada).get("/office/health/").text
    assert "All is well." in page
    assert "50.0 GB of 100.0 GB are free" in page
    for person in (ben, cleo):
        assert as_person(person).get("/office/health/").status_code == 403


def test_backups_on_the_disk_of_the_data_are_no_comfort(client, monkeypatch):
    monkeypatch.setattr(backups, "share_a_disk", lambda: True)
    assert state_of(client, "backup") == "look at it"
    assert "Set WORKSHOP_BACKUPS to a folder on another one." in health.backup().says


def test_which_disk_they_lie_on_is_asked_of_the_system(settings, tmp_path, monkeypatch):
    monkeypatch.undo()
    settings.DATA_DIR, settings.BACKUPS_ROOT = tmp_path, tmp_path / "not" / "there yet"
    assert backups.share_a_disk()
    settings.BACKUPS_ROOT = Path("/proc")  # a file system of its own, wherever this runs
    assert not backups.share_a_disk()
