"""Branches: where somebody works now, and the owner's pages of them."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.dates import today
from shop.lib.keys import key_of
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.lib.way_back import way_back
from shop.staff import access, audit, branches, branching, exports, listing
from shop.staff.access import may
from shop.staff.branch_forms import BranchForm, FirstForm, PeopleForm

GET_POST = require_http_methods(["GET", "HEAD", "POST"])


@require_POST
@may("see orders")
def choose(request):
    """Work in another branch from now on, on this device."""
    chosen = key_of(request.POST.get("branch"))
    found = next((branch for branch in branching.choices(request.user) if branch.pk == chosen), None)
    if found is not None:
        request.session[branching.CHOSEN] = found.pk
        messages.success(request, f"You work in {found} now.")
    return redirect(way_back(request.POST.get("back", ""), reverse("home")))


@require_safe
@may("edit workshop")
def all_branches(request):
    found, sorting = listing.branches(request.GET)
    return render(request, "staff/branch_list.html", {"page": page_of(request, found), "sorting": sorting})


@require_safe
@may("export", gives_out=False)
def export(request):
    """The same list for a spreadsheet; of one branch alone nobody hears, not in the record either."""
    if not request.workshop.has_branches:
        raise Http404
    exports.note(request)
    rows = listing.branch_rows(listing.branches(request.GET)[0])
    return csv_download(f"branches-{today()}.csv", listing.BRANCH_HEADS, rows)


@GET_POST
@may("edit workshop")
def new(request):
    """The second branch asks what the first one is called, too."""
    form = BranchForm(request.POST or None)
    first = None if request.workshop.has_branches else FirstForm(request.POST or None, prefix="first")
    forms = [one for one in (form, first) if one is not None]
    wrong = request.method == "POST" and [one for one in forms if not one.is_valid()]  # each says what is wrong
    if request.method == "POST" and not wrong:
        branch = branches.open_branch(form.cleaned_data, **(first.cleaned_data if first else {}))
        messages.success(request, f"{branch} is open. Say who works there.")
        return redirect("branch", branch.pk)
    shows = {"form": form, "first": first}
    return render(request, "staff/branch_form.html", shows, status=422 if wrong else 200)


@GET_POST
@may("edit workshop")
def branch(request, pk):
    form = BranchForm(request.POST or None, instance=access.branch(pk))
    if request.method == "POST" and form.is_valid():
        if changed := form.changes:
            form.save_changes()
            audit.write(audit.AuditKind.SETTINGS, f"The branch {form.instance} changed: {', '.join(changed)}.")
        messages.success(request, f"{form.instance} is saved.")
        return redirect("branch", pk)
    return _shown(request, pk, form, PeopleForm(branch=access.branch(pk)), 422 if form.is_bound else 200)


def _shown(request, pk, form, people, status):
    shows = {"form": form, "branch": access.branch(pk), "people": people}
    return render(request, "staff/branch_form.html", shows, status=status)


@require_POST
@may("edit staff")
def people(request, pk):
    branch = access.branch(pk)
    form = PeopleForm(request.POST, branch=branch)
    if not form.is_valid():
        return _shown(request, pk, BranchForm(instance=branch), form, 422)
    branches.put_people(branch, form.cleaned_data["people"])
    messages.success(request, f"Who works in {branch} is saved.")
    return redirect("branch", pk)


@require_POST
@may("edit workshop")
def close(request, pk):
    return _done(request, pk, branches.close, "{} is closed. What was done there stays.")


@require_POST
@may("edit workshop")
def open_again(request, pk):
    return _done(request, pk, branches.open_again, "{} is open again.")


@require_POST
@may("edit workshop")
def take_away(request, pk):
    return _done(request, pk, branches.take_away, "{} is taken away again.", then="branches")


def _done(request, pk, service, says, then=None):
    branch = access.branch(pk)
    name = str(branch)
    try:
        service(branch)
    except branches.NotAllowed as refusal:
        messages.error(request, str(refusal))
        return redirect("branch", pk)
    messages.success(request, says.format(name))
    return redirect(then) if then else redirect("branch", pk)
