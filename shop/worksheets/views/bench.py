"""The bench's list, and the start of a worksheet."""

from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.orders import exporting
from shop.staff.access import may
from shop.staff.branching import here
from shop.worksheets import access, listing, profiles, queries, services
from shop.worksheets.device import unit_of
from shop.worksheets.forms import StartForm
from shop.worksheets.services.errors import Refused
from shop.worksheets.shown.bench import bench as bench_shown
from shop.worksheets.shown.left import last_left_rows


@require_safe
@may("see worksheets")
def bench(request):
    orders, sorting = listing.bench(here(request), request.GET)
    page = page_of(request, orders, shown=orders)
    to_do, waiting = bench_shown(list(page), request.user, today=today())
    shows = {"page": page, "sorting": sorting, "counts": listing.at_bench(here(request))}
    return render(request, "worksheets/bench.html", shows | {"to_do": to_do, "waiting": waiting})


@require_safe
@may("export")
def bench_csv(request):
    """The same list, every page of it, for a spreadsheet."""
    orders, _ = listing.bench(here(request), request.GET)
    return csv_download(f"bench-{today()}.csv", exporting.heads(), exporting.rows(orders))


@require_http_methods(["GET", "POST"])
@may("work worksheets")
def start(request, pk):
    order = access.order_to_work(request.user, pk)
    open_sheet = queries.open_sheet_of(order)
    if open_sheet:
        return redirect("worksheet", open_sheet.pk)
    instrument = order.instrument
    usual = profiles.usual_for(instrument.kind)
    form = StartForm(request.POST or None, kind=usual.kind,
                     initial={"profile": usual.pk, "stringing": instrument.stringing})  # fmt: skip
    problem = ""
    if request.method == "POST" and form.is_valid():
        try:
            sheet = services.start_worksheet(order, by=request.user, profile=form.cleaned_data["profile"],
                                             stringing=form.cleaned_data["stringing"])  # fmt: skip
            return redirect("worksheet", sheet.pk)
        except Refused as refusal:
            problem = str(refusal)
    context = {"order": order, "form": form, "problem": problem,
               "left": last_left_rows(instrument, unit=unit_of(request))}  # fmt: skip
    return render(request, "worksheets/start.html", context, status=422 if request.method == "POST" else 200)
