"""The owner's figures."""

from django.http import Http404
from django.shortcuts import render
from django.views.decorators.http import require_safe

from shop.figures.kept import sums_within
from shop.figures.page import figures, period_of
from shop.figures.tables import PERIODS, months_back, tables_of
from shop.lib.dates import today
from shop.lib.sheets import csv_download
from shop.staff import exports
from shop.staff.access import may
from shop.staff.branch_forms import OfBranches

AT_ONCE_S = 2.0  # as long as one answer adds up what is missing; the next goes on from there


@require_safe
@may("see figures")
def page(request):
    count, form = period_of(request.GET.get("months")), OfBranches(request.GET, person=request.user)
    months = months_back(count)
    found, left = sums_within(months, form.asked, within_s=AT_ONCE_S)
    shows = {
        "figures": [] if left else figures(months, found), "left": left, "done": count - left,
        "months": count, "periods": PERIODS, "form": form,
    }  # fmt: skip
    return render(request, "figures/figures.html", shows)


@require_safe
@may("see figures")
def table(request, key):
    form = OfBranches(request.GET, person=request.user)
    found = tables_of(period_of(request.GET.get("months")), form.asked).get(key)
    if found is None:
        raise Http404
    exports.note(request)
    return csv_download(f"{key}-{today()}.csv", found.heads, found.rows)
