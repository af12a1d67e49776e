"""The price list."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.staff import audit
from shop.staff.access import may
from shop.stock import access
from shop.stock.forms.prices import ListForm, PriceForm
from shop.stock.listing import PRICE_HEADS, price_rows

GET_POST = require_http_methods(["GET", "HEAD", "POST"])


@require_safe
@may("see prices")
def prices(request):
    form = ListForm(request.GET)
    shows = {"form": form, "page": page_of(request, form.found()), "sorting": form.sorting}
    return render(request, "stock/price_list.html", shows)


@require_safe
@may("export")
def export(request):
    """The same list, every page of it, for a spreadsheet."""
    return csv_download(f"prices-{today()}.csv", PRICE_HEADS, price_rows(ListForm(request.GET).found()))


@GET_POST
@may("edit prices")
def price_new(request):
    form = PriceForm(request.POST or None, initial={"tax_rate": request.workshop.tax_rate})
    if request.method == "POST" and form.is_valid():
        messages.success(request, f"“{form.save_changes()}” is on the price list.")
        return redirect("prices")
    return render(request, "stock/price_form.html", {"form": form}, status=422 if form.errors else 200)


@GET_POST
@may("edit prices")
def price_edit(request, pk):
    item = access.price(pk)
    form = PriceForm(request.POST or None, instance=item)
    if request.method == "POST" and form.is_valid():
        if changed := form.changes:
            said = ", ".join(f"{name} → {value}" for name, value in changed.items())
            audit.write(audit.AuditKind.MONEY, f"Price list, “{item}”: {said}.")
        text = f"“{form.save_changes()}” is saved. Orders and invoices keep the price they were agreed at."
        messages.success(request, text)
        return redirect("prices")
    shown = {"form": form, "item": access.price(pk)}
    return render(request, "stock/price_form.html", shown, status=422 if form.errors else 200)
