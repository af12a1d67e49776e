"""A clock that jumps back: numbers and histories go on in the order in which things were done."""

from datetime import UTC, datetime, timedelta

import pytest
from django.utils import timezone

from shop.lib import backups
from shop.orders.models import Event, WorkOrder
from tests import factories
from tests.counter_builders import booked

BACK = timedelta(days=400)


@pytest.fixture
def jump_back(monkeypatch):
    now = timezone.now

    def jump():
        monkeypatch.setattr(timezone, "now", lambda: now() - BACK)

    return jump


@pytest.mark.django_db
def test_orders_keep_their_numbers_and_order(cleo, jump_back):
    one = factories.instrument()
    before = booked(cleo, instrument=one)
    jump_back()
    after = booked(cleo, instrument=one)
    assert before.number != after.number
    assert list(WorkOrder.objects.order_by("pk")) == [before, after]
    assert list(Event.objects.values_list("order", flat=True)) == sorted(Event.objects.values_list("order", flat=True))


def test_a_backup_from_the_future_does_not_keep_the_next_one_away(settings, tmp_path):
    settings.BACKUPS_ROOT = tmp_path
    now = datetime.now(UTC)
    (tmp_path / (now + BACK).strftime(backups.NAME)).touch()
    assert backups.is_due(now=now)
    (tmp_path / (now - timedelta(hours=1)).strftime(backups.NAME)).touch()
    assert not backups.is_due(now=now)
    assert backups.is_due(now=now + timedelta(hours=24))
