"""Customers: the list, one of them, and their record."""

from django.contrib import messages
from django.db.models import prefetch_related_objects
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.people import access, services
from shop.people.exporting import HEADS, rows
from shop.people.forms import CustomerForm, ListForm
from shop.staff.access import may


@require_safe
@may("see customers")
def customers(request):
    form = ListForm(request.GET)
    page = page_of(request, form.found().prefetch_related("instruments"))
    return render(request, "people/customer_list.html", {"page": page, "form": form, "sorting": form.sorting})


@require_safe
@may("export")
def export(request):
    """The same list, every page of it, for a spreadsheet."""
    return csv_download(f"customers-{today()}.csv", HEADS, rows(ListForm(request.GET).found(whole=True)))


@require_safe
@may("see customers")
def customer(request, pk):
    who = access.customer(pk)
    prefetch_related_objects([who], "instruments")  # once for all panels
    return render(request, "people/customer_detail.html", {"customer": who, "instruments": who.instruments.all()})


@require_http_methods(["GET", "POST"])
@may("edit customers")
def new(request):
    form = CustomerForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        form.instance.created_by = request.user
        who = form.save_changes()
        messages.success(request, f"{who} is on file.")
        return redirect("customer", who.pk)
    return render(request, "people/customer_form.html", {"form": form}, status=422 if form.is_bound else 200)


@require_http_methods(["GET", "POST"])
@may("edit customers")
def edit(request, pk):
    who = access.customer(pk)
    form = CustomerForm(request.POST or None, instance=who)
    if request.method == "POST" and form.is_valid():
        messages.success(request, f"{form.save_changes()} is saved.")
        return redirect("customer", pk)
    shown = {"form": form, "customer": access.customer(pk)}
    return render(request, "people/customer_form.html", shown, status=422 if form.is_bound else 200)


@require_POST
@may("edit customers")
def delete(request, pk):
    who = access.customer(pk)
    try:
        services.delete_customer(who)
    except services.NotAllowed as refusal:
        messages.error(request, str(refusal))
        return redirect("customer", pk)
    messages.success(request, f"{who} is deleted.")
    return redirect("customers")
