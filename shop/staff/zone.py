"""Shows times in the workshop's own zone and amounts as it writes them, for a request or for a job."""

import zoneinfo
from contextlib import contextmanager

from django.utils import timezone

from shop.lib import money
from shop.staff import branching
from shop.staff.models import Workshop


@contextmanager
def in_workshop(workshop):
    """Within this block times and amounts are the workshop's."""
    zone = timezone.override(zoneinfo.ZoneInfo(workshop.time_zone))
    with zone, money.conventions(workshop.currency, workshop.number_format), branching.told_by(workshop):
        yield workshop


class WorkshopMiddleware:
    """Reads the workshop's details once a request."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        if request.path.startswith("/static/"):
            return self.get_response(request)
        request.workshop = Workshop.here()
        with in_workshop(request.workshop):
            return self.get_response(request)
