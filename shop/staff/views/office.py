"""The workshop's details, and who works here."""

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.staff import access, audit, codes, listing, services
from shop.staff.access import may
from shop.staff.forms import PersonForm, WorkshopForm
from shop.staff.models import Workshop

GET_POST = require_http_methods(["GET", "HEAD", "POST"])


@GET_POST
@may("edit workshop")
def workshop(request):
    form = WorkshopForm(request.POST or None, instance=Workshop.here())
    if request.method == "POST" and form.is_valid():
        if changed := form.changes:
            form.save_changes()
            audit.write(audit.AuditKind.SETTINGS, f"The workshop's details changed: {', '.join(changed)}.")
        messages.success(request, "The workshop's details are saved.")
        return redirect("workshop")
    page = {"form": form, "mail_from": settings.MAIL_FROM}
    return render(request, "staff/workshop_form.html", page, status=422 if form.errors else 200)


@require_safe
@may("edit staff")
def staff(request):
    people, sorting = listing.people(request.GET)
    return render(request, "staff/person_list.html", {"page": page_of(request, people), "sorting": sorting})


@require_safe
@may("export")
def staff_csv(request):
    """Who works here, for a spreadsheet: names and roles, no password and no code."""
    return csv_download(f"staff-{today()}.csv", listing.heads(), listing.rows(listing.people(request.GET)[0]))


@GET_POST
@may("edit staff")
def person_new(request):
    form = PersonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        new = services.add_person(**form.cleaned_data)
        messages.success(request, f"{new} can sign in now.")
        return redirect("staff")
    return render(request, "staff/person_form.html", {"form": form}, status=422 if form.errors else 200)


@GET_POST
@may("edit staff")
def person_edit(request, pk):
    person = access.person(pk)
    start = {name: getattr(person, name) for name in ("shown_name", "email", "role", "is_active")}
    if request.workshop.has_branches:
        start["branches"] = person.branches.all()
    form = PersonForm(request.POST or None, person=person, initial=start)
    if request.method == "POST" and form.is_valid():
        try:
            services.change_person(person, **form.cleaned_data)
        except services.NotAllowed as refused:
            form.add_error("role", str(refused))
        else:
            messages.success(request, f"{person} is saved.")
            return _after(request, person)
    found, sorting = listing.devices(person, request.GET)
    shown = {
        "form": form, "person": person, "page": page_of(request, found), "sorting": sorting,
        "has_codes": codes.has_codes(person),
    }  # fmt: skip
    return render(request, "staff/person_form.html", shown, status=422 if form.errors else 200)


@require_POST
@may("edit staff")
def person_out(request, pk):
    person = access.person(pk)
    services.end_sessions(person)
    audit.write(audit.AuditKind.RIGHTS, f"{person} signed out everywhere.")
    messages.success(request, f"{person} is signed out everywhere.")
    return redirect("sign-in") if person == request.user else redirect("person-edit", pk)


@require_POST
@may("edit staff")
def person_codes_drop(request, pk):
    """For whoever lost telephone and paper."""
    person = access.person(pk)
    services.drop_codes(person)
    messages.success(request, f"{person} signs in by password alone until a new telephone is set up.")
    return redirect("person-edit", pk)


def _after(request, person):
    """To the list; whoever changed themselves stays signed in, and goes where they may still go."""
    if person == request.user:
        update_session_auth_hash(request, person)
        return redirect("staff" if person.may("edit staff") else "home")
    return redirect("staff")
