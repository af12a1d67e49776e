"""An instrument: its page, its record, its specification, its strings."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from shop.instruments import access, services, shown
from shop.instruments.forms import InstrumentForm, SpecificationForm, strings_formset
from shop.people import access as people
from shop.staff.access import may

GET_POST = require_http_methods(["GET", "HEAD", "POST"])


@require_safe
@may("see customers")
def instrument(request, pk):
    one = access.instrument(pk)
    context = {
        "instrument": one,
        "spec": shown.specification(one, request.workshop.length_unit),
        "strings": shown.strings(one),
    }
    return render(request, "instruments/instrument_detail.html", context)


@GET_POST
@may("edit instruments")
def instrument_new(request, customer_pk):
    customer = people.customer(customer_pk)
    form = InstrumentForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        new = services.add_instrument(customer, **form.cleaned_data)
        messages.success(request, f"{new} is on file.")
        return redirect("instrument", new.pk)
    context = {"form": form, "customer": customer}
    return render(request, "instruments/instrument_form.html", context, status=422 if form.errors else 200)


@GET_POST
@may("edit instruments")
def instrument_edit(request, pk):
    one = access.instrument(pk)
    form = InstrumentForm(request.POST or None, instance=one)
    if request.method == "POST" and form.is_valid():
        services.change_instrument(one, changed=form.changed_data)
        messages.success(request, f"{one} is saved.")
        return redirect("instrument", pk)
    context = {"form": form, "instrument": one, "customer": one.customer}
    return render(request, "instruments/instrument_form.html", context, status=422 if form.errors else 200)


@GET_POST
@may("edit instruments")
def specification(request, pk):
    one = access.instrument(pk)
    form = SpecificationForm(request.POST or None, instrument=one, length_unit=request.workshop.length_unit)
    if request.method == "POST" and form.is_valid():
        count = services.record_specification(one, form.values, by=request.user)
        messages.success(request, f"{count} measured values are written down." if count else "Nothing was changed.")
        return redirect("instrument", pk)
    context = {"form": form, "instrument": one}
    return render(request, "instruments/specification_form.html", context, status=422 if form.errors else 200)


@GET_POST
@may("edit instruments")
def strings(request, pk):
    one = access.instrument(pk)
    picked = shown.picked_set(one, request.GET.get("set", ""))
    forms = strings_formset(picked or one, request.POST or None)
    if request.method == "POST" and forms.is_valid():
        services.write_strings(one, [form.as_string for form in forms])
        messages.success(request, "The strings are written down.")
        return redirect("instrument", pk)
    context = {"forms": forms, "instrument": one, "sets": shown.sets(one)}
    refused = request.method == "POST"
    return render(request, "instruments/strings_form.html", context, status=422 if refused else 200)
