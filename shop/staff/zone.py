"""Reads the workshop's details once a request, and shows its times in its own zone."""

import zoneinfo

from django.utils import timezone

from shop.staff.models import Workshop


class WorkshopMiddleware:
    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        if request.path.startswith("/static/"):
            return self.get_response(request)
        request.workshop = Workshop.here()
        with timezone.override(zoneinfo.ZoneInfo(request.workshop.time_zone)):
            return self.get_response(request)
