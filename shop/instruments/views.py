"""An instrument: what it is, what was measured on it, the strings it has."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.instruments import access, listing, services, shown
from shop.instruments.forms import InstrumentForm
from shop.instruments.measuring import SpecForm
from shop.instruments.stringing import FillForm, StringsForm
from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.staff.access import may


@require_safe
@may("see customers")
def instruments(request):
    form = listing.ListForm(request.GET)
    page = page_of(request, form.found())
    return render(request, "instruments/instrument_list.html", {"form": form, "page": page, "sorting": form.sorting})


@require_safe
@may("export")
def export(request):
    """The same list, every page of it, for a spreadsheet."""
    found = listing.ListForm(request.GET).found(whole=True)
    return csv_download(f"instruments-{today()}.csv", listing.HEADS, listing.rows(found))


@require_safe
@may("see orders")
def instrument(request, pk):
    one = access.instrument(pk)
    shows = {
        "instrument": one, "groups": shown.specification(one, unit=request.workshop.length_unit),
        "strings": shown.strings(one),
    }  # fmt: skip
    return render(request, "instruments/instrument_detail.html", shows)


@require_http_methods(["GET", "POST"])
@may("edit instruments")
def new(request, pk):
    owner = access.owner_to_be(pk)
    form = InstrumentForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        form.instance.customer = owner
        one = form.save_changes()
        messages.success(request, f"{one} of {owner} is on file.")
        return redirect("instrument", one.pk)
    shows = {"form": form, "owner": owner}
    return render(request, "instruments/instrument_form.html", shows, status=422 if form.is_bound else 200)


@require_http_methods(["GET", "POST"])
@may("edit instruments")
def edit(request, pk):
    form = InstrumentForm(request.POST or None, instance=access.instrument(pk))
    if request.method == "POST" and form.is_valid():
        messages.success(request, f"{form.save_changes()} is saved.")
        return redirect("instrument", pk)
    one = access.instrument(pk)
    shows = {"form": form, "instrument": one, "owner": one.customer}
    return render(request, "instruments/instrument_form.html", shows, status=422 if form.is_bound else 200)


@require_http_methods(["GET", "POST"])
@may("edit instruments")
def measurements(request, pk):
    one = access.instrument(pk)
    unit = request.workshop.length_unit
    form = SpecForm(one, request.POST or None, unit=unit)
    if request.method == "POST" and form.is_valid():
        rows = services.record_spec_values(one, form.values, by=request.user)
        messages.success(request, f"{len(rows)} measured." if rows else "Nothing was changed.")
        return redirect("instrument", pk)
    groups = shown.specification(one, unit=unit, with_history=True)
    shows = {"form": form, "instrument": one, "groups": groups}
    return render(request, "instruments/measurements.html", shows, status=422 if form.is_bound else 200)


@require_http_methods(["GET", "POST"])
@may("edit instruments")
def strings(request, pk):
    one = access.instrument(pk)
    fill = FillForm(one, request.GET)
    filled = fill.rows() if fill.is_valid() else None
    form = StringsForm(one, request.POST or None, initial=filled)
    if request.method == "POST" and form.is_valid():
        services.fit_strings(one, form.strings)
        messages.success(request, f"The strings of {one} are written down.")
        return redirect("instrument", pk)
    shows = {"form": form, "fill": fill, "filled": filled is not None, "instrument": one}
    return render(request, "instruments/strings.html", shows, status=422 if request.method == "POST" else 200)


@require_POST
@may("edit instruments")
def delete(request, pk):
    one = access.instrument(pk)
    try:
        services.delete_instrument(one)
    except services.NotAllowed as refusal:
        messages.error(request, str(refusal))
        return redirect("instrument", pk)
    messages.success(request, f"{one} is deleted.")
    return redirect("customer", one.customer_id)
