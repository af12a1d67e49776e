"""The shelf: its list, one item with its history, and what comes and goes."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.staff.access import may
from shop.staff.branching import choices, here
from shop.stock import access, hooks, listing, services
from shop.stock.forms.shelf import CountForm, KeepForm, ReceiveForm, SendBackForm, SendOnForm, ShelfForm
from shop.stock.levels import level_of
from shop.stock.models import OtherShelf
from shop.stock.shelves import is_first

FORMS = {"receive": ReceiveForm, "send_back": SendBackForm, "count": CountForm}


@require_safe
@may("see prices")
def shelf(request):
    form = ShelfForm(request.GET)
    page = page_of(request, listing.asked(form, here(request)))
    return render(request, "stock/shelf.html", {"form": form, "page": page, "sorting": form.sorting})


@require_safe
@may("export")
def export(request):
    levels = listing.asked(ShelfForm(request.GET), here(request))
    return csv_download(f"shelf-{today()}.csv", listing.HEADS, listing.rows(levels))


@require_safe
@may("see prices")
def part(request, pk):
    return show_part(request, access.part(pk))


@require_safe
@may("export")
def part_csv(request, pk):
    """Everything that came or went of an item, for a spreadsheet."""
    item = access.part(pk)
    rows = listing.movement_rows(item, _movements(request, item)[0])
    return csv_download(f"movements-{item.pk}-{today()}.csv", listing.MOVEMENT_HEADS, rows)


def _movements(request, item):
    return listing.movements(item, here(request), request.GET, with_costs=request.user.may("edit prices"))


def show_part(request, item, *, forms=None, status=200):
    """The item's page; `forms` are those that were not taken, by name."""
    branch = here(request)
    found, sorting = _movements(request, item)
    fresh = {name: form(prefix=name) for name, form in FORMS.items()}
    if branch is not None:
        fresh |= {"send_on": SendOnForm(prefix="send_on", branch=branch), "keep": _keep_form(item, branch)}
    level = level_of(item, branch)
    shows = {
        "item": level.item, "level": level, "form": fresh | (forms or {}), "branch": branch,
        "page": page_of(request, found), "sorting": sorting,
        "waiting": [one for function in hooks.waiting_orders for one in function(item, branch)],
        "elsewhere": [(one, level_of(item, one)) for one in choices(request.user) if one != branch],
    }  # fmt: skip
    return render(request, "stock/part.html", shows, status=status)


def _keep_form(item, branch, data=None):
    """The form of what a branch other than the first says of an item; None for the first, whose item says it."""
    if is_first(branch):
        return None
    row = OtherShelf.objects.filter(item=item, branch=branch).first() or OtherShelf(item=item, branch=branch)
    return KeepForm(data, prefix="keep", instance=row)


def _done(request, pk, name, service, *, form=None):
    """Read the form `name` of the item's page and have the service do it on this shelf, or show the page again."""
    item = access.part(pk)
    form = form or FORMS[name](request.POST, prefix=name)
    if not form.is_valid():
        return show_part(request, item, forms={name: form}, status=422)
    try:
        tell(request, service(item, by=request.user, branch=here(request), **form.cleaned_data))
    except services.NotAllowed as refusal:
        form.add_error(None, str(refusal))
        return show_part(request, item, forms={name: form}, status=422)
    return redirect("part", pk)


def tell(request, outcome):
    """Say what was written down, and warn when less than nothing is on file."""
    movement = outcome.movement
    messages.success(request, f"{movement.item}: {movement.get_kind_display()}. On hand: {outcome.on_hand:g}.")
    if outcome.warning:
        messages.warning(request, outcome.warning)


@require_POST
@may("move stock")
def receive(request, pk):
    return _done(request, pk, "receive", services.receive)


@require_POST
@may("move stock")
def send_back(request, pk):
    return _done(request, pk, "send_back", services.send_back)


@require_POST
@may("move stock")
def count(request, pk):
    return _done(request, pk, "count", services.count)


@require_POST
@may("move branches")
def send_on(request, pk):
    """Some of it goes from the shelf of this branch to that of another one."""
    form = SendOnForm(request.POST, prefix="send_on", branch=_branch_or_404(request))
    return _done(request, pk, "send_on", services.send_on, form=form)


@require_POST
@may("edit prices")
def keep(request, pk):
    """Where it lies in this branch, and when it is reordered there."""
    item = access.part(pk)
    form = _keep_form(item, _branch_or_404(request), request.POST)
    if form is None:
        raise Http404("What the first branch says stands in the item's record.")
    if not form.is_valid():
        return show_part(request, item, forms={"keep": form}, status=422)
    form.save_changes()
    messages.success(request, "The place and the marks are saved.")
    return redirect("part", pk)


def _branch_or_404(request):
    branch = here(request)
    if branch is None:
        raise Http404("There is one branch only.")
    return branch
