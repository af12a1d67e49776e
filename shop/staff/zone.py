"""Reads the workshop's details once a request, and shows its times in its own zone and amounts as it writes them."""

import zoneinfo

from django.utils import timezone

from shop.lib import money
from shop.staff.models import Workshop


class WorkshopMiddleware:
    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        if request.path.startswith("/static/"):
            return self.get_response(request)
        here = request.workshop = Workshop.here()
        zone = timezone.override(zoneinfo.ZoneInfo(here.time_zone))
        with zone, money.conventions(here.currency, here.number_format):
            return self.get_response(request)
