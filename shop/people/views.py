"""Customers: the list, one of them, a new one, changing one."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from shop.people import access, services
from shop.people.forms import CustomerForm
from shop.people.models import Customer
from shop.staff.access import may

GET_POST = require_http_methods(["GET", "HEAD", "POST"])
A_PAGE = 50


@require_safe
@may("see customers")
def customers(request):
    sought = request.GET.get("q", "").strip()[:100]
    found = Customer.objects.matching(sought) if sought else Customer.objects.all()
    page = Paginator(found.with_counts(), A_PAGE).get_page(request.GET.get("page"))
    return render(request, "people/customer_list.html", {"page": page, "sought": sought})


@require_safe
@may("see customers")
def customer(request, pk):
    return render(request, "people/customer_detail.html", {"customer": access.customer(pk)})


@GET_POST
@may("edit customers")
def customer_new(request):
    form = CustomerForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        new = services.add_customer(by=request.user, **form.cleaned_data)
        messages.success(request, f"{new} is on file.")
        return redirect("customer", new.pk)
    return render(request, "people/customer_form.html", {"form": form}, status=422 if form.errors else 200)


@GET_POST
@may("edit customers")
def customer_edit(request, pk):
    customer = access.customer(pk)
    form = CustomerForm(request.POST or None, instance=customer)
    if request.method == "POST" and form.is_valid():
        services.change_customer(customer, changed=form.changed_data)
        messages.success(request, f"{customer} is saved.")
        return redirect("customer", pk)
    context = {"form": form, "customer": customer}
    return render(request, "people/customer_form.html", context, status=422 if form.errors else 200)
