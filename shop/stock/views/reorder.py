"""What to reorder: the list, the letters, and that they were sent. And whom to order from."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.staff.access import may
from shop.staff.branching import here, place
from shop.stock import access, listing, services, shelves
from shop.stock.forms.prices import SupplierForm
from shop.stock.reorder import letters

GET_POST = require_http_methods(["GET", "HEAD", "POST"])


@require_safe
@may("see prices")
def reorder(request):
    branch = here(request)
    sorting = listing.order_sorting(request.GET)
    page = page_of(request, letters(branch=branch, in_order=sorting.rows))
    found = [(one, one.mail_address(place(request))) for one in page]
    shows = {
        "letters": found, "page": page, "sorting": sorting, "on_its_way": shelves.on_its_way(branch), "today": today(),
    }  # fmt: skip
    return render(request, "stock/reorder.html", shows)


@require_safe
@may("edit prices")
def export(request):
    found = letters(branch=here(request), in_order=listing.order_sorting(request.GET).rows)
    rows = listing.order_rows(level for letter in found for level in letter.levels)
    return csv_download(f"reorder-{today()}.csv", listing.ORDER_HEADS, rows)


@require_POST
@may("move stock")
def sent(request, supplier):
    """The list to that supplier was sent: what stands on it is on its way."""
    branch = here(request)
    found = letters(supplier, branch)
    if not found:
        messages.error(request, "Nothing has to be ordered there any more.")
        return redirect("reorder")
    count = services.mark_sent({level.item.pk: level.to_order for level in found[0].levels}, branch)
    messages.success(request, f"On its way: {count} item{'' if count == 1 else 's'}.")
    return redirect("reorder")


@require_POST
@may("move stock")
def not_sent(request, pk):
    item = access.part(pk)
    services.take_back_sent(item, here(request))
    messages.success(request, f"“{item}” is no longer on its way.")
    return redirect("reorder")


@require_safe
@may("see prices")
def suppliers(request):
    found, sorting = listing.suppliers(request.GET)
    return render(request, "stock/suppliers.html", {"page": page_of(request, found), "sorting": sorting})


@require_safe
@may("export")
def suppliers_csv(request):
    rows = listing.supplier_rows(listing.suppliers(request.GET)[0])
    return csv_download(f"suppliers-{today()}.csv", listing.SUPPLIER_HEADS, rows)


@GET_POST
@may("edit prices")
def supplier(request, pk=None):
    """A supplier's record; without `pk` a new one."""
    form = SupplierForm(request.POST or None, instance=access.supplier(pk) if pk else None)
    if request.method == "POST" and form.is_valid():
        messages.success(request, f"{form.save_changes()} is saved.")
        return redirect("suppliers")
    shows = {"form": form, "supplier": access.supplier(pk) if pk else None}
    return render(request, "stock/supplier_form.html", shows, status=422 if form.is_bound else 200)
