"""The invented workshop lives by the days of its own zone, whenever it is loaded."""

import pytest
from django.utils import timezone

from shop.figures.demo import load as demo
from shop.orders.models import ClosedDays
from shop.staff.models import Workshop
from shop.staff.zone import in_workshop


@pytest.mark.django_db
def test_its_days_are_those_of_the_workshop(monkeypatch):
    zones = []
    monkeypatch.setattr(demo, "_plan", lambda *_about: zones.append(timezone.get_current_timezone_name()) or [])
    demo.load(orders=1)
    with in_workshop(Workshop.here()) as workshop:
        assert zones == [workshop.time_zone]
        assert min(ClosedDays.objects.values_list("first", flat=True)) > timezone.localdate()
