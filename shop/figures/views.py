"""The owner's figures."""

from django.http import Http404
from django.shortcuts import render
from django.views.decorators.http import require_safe

from shop.figures.page import figures, period_of
from shop.figures.tables import PERIODS, all_tables
from shop.lib.dates import today
from shop.lib.sheets import csv_download
from shop.staff import audit
from shop.staff.access import may


@require_safe
@may("see figures")
def page(request):
    count = period_of(request.GET.get("months"))
    return render(request, "figures/figures.html", {"figures": figures(count), "months": count, "periods": PERIODS})


@require_safe
@may("see figures")
def table(request, key):
    found = all_tables(period_of(request.GET.get("months"))).get(key)
    if found is None:
        raise Http404
    audit.write(audit.AuditKind.EXPORT, f"Exported {request.path}.")
    return csv_download(f"{key}-{today()}.csv", found.heads, found.rows)
