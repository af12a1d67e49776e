"""The owner's target profiles."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.staff.access import may
from shop.worksheets import access, listing, profile_services
from shop.worksheets.forms import ProfileNameForm, all_valid, range_forms
from shop.worksheets.profiles import ensure_usual_profiles
from shop.worksheets.queries import kinds_without_profile
from shop.worksheets.services.errors import Refused
from shop.worksheets.shown.profiles import foretold_of, groups_shown


@require_safe
@may("edit profiles")
def profiles(request):
    ensure_usual_profiles()
    found, sorting = listing.target_profiles(request.GET)
    page = page_of(request, found)
    kinds = groups_shown(page, by_kind=sorting.column.key == "kind", unit=request.workshop.length_unit)
    shown = {"kinds": kinds, "page": page, "sorting": sorting, "lacking": kinds_without_profile()}
    return render(request, "worksheets/profiles.html", shown)


@require_safe
@may("export")
def profiles_csv(request):
    found = listing.target_profiles(request.GET)[0]
    return csv_download(f"profiles-{today()}.csv", listing.PROFILE_HEADS, listing.profile_rows(found))


@require_http_methods(["GET", "POST"])
@may("edit profiles")
def profile(request, pk):
    held = access.profile_to_edit(request.user, pk)
    data = request.POST if request.method == "POST" else None
    name = ProfileNameForm(data, instance=held)
    ranges = range_forms(held, data=data, length_unit=request.workshop.length_unit)
    valid = all_valid((name, *ranges))
    foretold = None
    if data and valid and "look" in data:
        foretold = foretold_of(held, ranges, unit=request.workshop.length_unit)
    elif data and valid:
        profile_services.save(name.save(commit=False), ranges)
        messages.success(request, f"{held.name} is saved. Worksheets that have begun keep their own targets.")
        return redirect("profiles")
    context = {"profile": held, "name": name, "ranges": ranges, "foretold": foretold}
    return render(request, "worksheets/profile.html", context, status=200 if not data or valid else 422)


@require_POST
@may("edit profiles")
def copy(request, pk):
    made = profile_services.copy(access.profile_to_edit(request.user, pk))
    messages.success(request, f"{made.name} is a copy: give it its own name and targets.")
    return redirect("profile", made.pk)


@require_POST
@may("edit profiles")
def make_usual(request, pk):
    held = profile_services.make_usual(access.profile_to_edit(request.user, pk))
    messages.success(request, f"{held.name} is now the usual one for {held.get_kind_display()}.")
    return redirect("profiles")


@require_POST
@may("edit profiles")
def delete(request, pk):
    held = access.profile_to_edit(request.user, pk)
    try:
        profile_services.delete(held)
    except Refused as problem:
        messages.error(request, str(problem))
        return redirect("profiles")
    messages.success(request, f"{held.name} is gone. Worksheets that used it keep their targets.")
    return redirect("profiles")
