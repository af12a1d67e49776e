"""How the installation is: a page for the owner, and an answer for a monitor."""

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.http import JsonResponse
from django.shortcuts import render
from django.utils.crypto import constant_time_compare
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.lib.sorting import Column, Sorting
from shop.staff import health
from shop.staff.access import may

COLUMNS = (Column("what", "What", ("name",)), Column("state", "State", ("urgency",)), Column("more", "More"))
HEADS = ("what", "state", "more")


@require_safe
@may("edit workshop")
def health_page(request):
    checks, sorting = health.look(), _sorting(request)
    page = page_of(request, sorting.rows(checks))
    return render(request, "staff/health.html", {"page": page, "sorting": sorting, "worst": health.worst(checks)})


@require_safe
@may("export")
def health_csv(request):
    """The same, to send to whoever is to help."""
    rows = ((one.name, one.state, one.says) for one in _sorting(request).rows(health.look()))
    return csv_download(f"health-{today()}.csv", HEADS, rows)


def _sorting(request):
    return Sorting(COLUMNS, request.GET.get("sort"), usual="state")


@require_safe
@never_cache
@login_not_required
def health_check(request):
    """200 when all is good or to be looked at, 503 when something is bad. Figures are for whoever has the token."""
    checks = health.look()
    worst = health.worst(checks)
    told = {"status": worst}
    if _is_monitor(request):
        told["checks"] = {one.name: {"state": one.state, **one.figures} for one in checks}
    return JsonResponse(told, status=503 if worst == health.BAD else 200)


def _is_monitor(request):
    given = request.headers.get("Authorization", "").removeprefix("Bearer ")
    return bool(settings.MONITOR_TOKEN) and constant_time_compare(given, settings.MONITOR_TOKEN)
