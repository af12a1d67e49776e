"""Lists: all orders, the office, what was found, and where each role begins."""

from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.orders import finding, office
from shop.orders.exporting import heads, rows
from shop.orders.forms.listing import ListForm
from shop.orders.models import WorkOrder
from shop.staff import setting_up
from shop.staff.access import may
from shop.staff.roles import Role

BEGINS_AT = {Role.COUNTER: "counter", Role.BENCH: "bench", Role.OWNER: "office"}


@require_safe
@may("see orders")
def home(request):
    if setting_up.is_asked_for(request):
        return redirect("set-up")
    return redirect(BEGINS_AT[Role(request.user.role)])


@require_safe
@may("see orders")
def orders(request):
    form = ListForm(request.GET, person=request.user)
    page = page_of(request, form.found(), shown=WorkOrder.objects.with_parties())
    shows = {"form": form, "page": page, "sorting": form.sorting, "today": office.today()}
    return render(request, "orders/order_list.html", shows)


@require_safe
@may("export")
def export(request):
    """The same list, every page of it, for a spreadsheet."""
    found = ListForm(request.GET, person=request.user).found(whole=True).with_parties()
    return csv_download(f"orders-{office.today():%Y-%m-%d}.csv", heads(), rows(found))


@require_safe
@may("see orders")
def office_page(request):
    return render(request, "orders/office.html", {"office": office.Office.now(request.user)})


@require_safe
@may("see orders")
def find(request):
    found = finding.find(request.GET.get("q", ""), request.user)
    if found.order:
        return redirect("order", found.order.number)
    return render(request, "orders/found.html", {"found": found})
