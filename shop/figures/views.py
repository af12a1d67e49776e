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
from shop.staff.branch_forms import OfBranches


@require_safe
@may("see figures")
def page(request):
    count, form = period_of(request.GET.get("months")), OfBranches(request.GET, person=request.user)
    shows = {"figures": figures(count, form.asked), "months": count, "periods": PERIODS, "form": form}
    return render(request, "figures/figures.html", shows)


@require_safe
@may("see figures")
def table(request, key):
    form = OfBranches(request.GET, person=request.user)
    found = all_tables(period_of(request.GET.get("months")), form.asked).get(key)
    if found is None:
        raise Http404
    audit.write(audit.AuditKind.EXPORT, f"Exported {request.path}.")
    return csv_download(f"{key}-{today()}.csv", found.heads, found.rows)
