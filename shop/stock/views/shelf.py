"""The shelf: its list, one item with its history, and what comes and goes."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.staff.access import may
from shop.stock import access, hooks, listing, services
from shop.stock.forms.shelf import CountForm, ReceiveForm, SendBackForm, ShelfForm
from shop.stock.levels import level_of

FORMS = {"receive": ReceiveForm, "send_back": SendBackForm, "count": CountForm}


@require_safe
@may("see prices")
def shelf(request):
    form = ShelfForm(request.GET)
    page = page_of(request, listing.asked(form))
    return render(request, "stock/shelf.html", {"form": form, "page": page, "sorting": form.sorting})


@require_safe
@may("export")
def export(request):
    return csv_download(f"shelf-{today()}.csv", listing.HEADS, listing.rows(listing.asked(ShelfForm(request.GET))))


@require_safe
@may("see prices")
def part(request, pk):
    return show_part(request, access.part(pk))


def show_part(request, item, *, forms=None, status=200):
    """The item's page; `forms` are those that were not taken, by name."""
    fresh = {name: form(prefix=name) for name, form in FORMS.items()}
    shows = {
        "item": item, "level": level_of(item), "form": fresh | (forms or {}),
        "page": page_of(request, item.movements.select_related("by")),
        "waiting": [one for function in hooks.waiting_orders for one in function(item)],
    }  # fmt: skip
    return render(request, "stock/part.html", shows, status=status)


def _done(request, pk, name, act):
    """Read the form `name` of the item's page and do `act(item, what was typed)`, or show the page again."""
    item = access.part(pk)
    form = FORMS[name](request.POST, prefix=name)
    if not form.is_valid():
        return show_part(request, item, forms={name: form}, status=422)
    try:
        tell(request, act(item, form.cleaned_data))
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
    return _done(request, pk, "receive", lambda item, read: services.receive(item, by=request.user, **read))


@require_POST
@may("move stock")
def send_back(request, pk):
    return _done(request, pk, "send_back", lambda item, read: services.send_back(item, by=request.user, **read))


@require_POST
@may("move stock")
def count(request, pk):
    return _done(request, pk, "count", lambda item, read: services.count(item, by=request.user, **read))
