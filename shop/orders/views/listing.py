"""The list of orders, and the same as a table for spreadsheets."""

from django.core.paginator import Paginator
from django.shortcuts import render
from django.views.decorators.http import require_safe

from shop.lib.dates import today
from shop.lib.sheets import csv_download
from shop.orders.listing import ASKED, SORTS, Asked
from shop.orders.states import State
from shop.staff.access import may

A_PAGE = 50
HEADS = ("number", "state", "booked in", "promised for", "customer", "instrument", "serial", "complaint")


@require_safe
@may("see orders")
def orders(request):
    asked = Asked.of(request.GET)
    page = Paginator(asked.orders, A_PAGE).get_page(request.GET.get("page"))
    context = {
        "page": page, "asked": asked, "states": State.choices, "sorts": SORTS, "today": today(),
        "shows": [(key, label) for key, (label, _) in ASKED.items()],
    }  # fmt: skip
    return render(request, "orders/order_list.html", context)


@require_safe
@may("export")
def orders_csv(request):
    rows = (
        (one.number, one.get_state_display(), f"{one.booked_at:%Y-%m-%d}", one.promised_on, one.customer.shown,
         str(one.instrument), one.instrument.serial, one.complaint)
        for one in Asked.of(request.GET).orders.iterator(chunk_size=500)
    )  # fmt: skip
    return csv_download("orders.csv", HEADS, rows)
