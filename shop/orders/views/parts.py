"""Parts of an order: taken from the shelf, put back, and used where no line says so yet."""

from django.contrib import messages
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from shop.lib.way_back import way_back
from shop.orders import access, services
from shop.orders.forms.parts import KeyForm, UsePartForm
from shop.orders.views.common import show_order
from shop.staff.access import may
from shop.stock.services import NotAllowed as ShelfRefused


@require_POST
@may("move stock")
def take(request, number, pk):
    line = access.line(request.user, number, pk)
    return _done(request, number, lambda key: services.take(line, by=request.user, key=key))


@require_POST
@may("move stock")
def put_back(request, number, pk):
    line = access.line(request.user, number, pk)
    return _done(request, number, lambda key: services.put_back(line, by=request.user, key=key))


@require_POST
@may("move stock")
def use(request, number):
    """A part that was reached for: of a line that has it, or of a new one that the customer is asked for."""
    order = access.order(request.user, number)
    form = UsePartForm(request.POST, prefix="part")
    if not form.is_valid():
        return show_order(request, order, forms={"part": form}, status=422)
    return _done(request, number, lambda key: _used(request, order, form, key))


def _used(request, order, form, key):
    line, outcome = services.use_part(order, form.new_line(), by=request.user, key=form.cleaned_data["key"] or key)
    if line.agreement == "proposed":
        messages.info(request, f"“{line.text}” waits for the customer's agreement.")
    return outcome


def _done(request, number, act):
    """Do `act(key)`, say what is on the shelf after it, and go back to where the button was pressed."""
    key = KeyForm(request.POST)
    try:
        outcome = act(key.cleaned_data["key"] if key.is_valid() else None)
        messages.success(request, f"{outcome.movement.item}: on hand {outcome.on_hand:g}.")
        if outcome.warning:
            messages.warning(request, outcome.warning)
    except (services.NotAllowed, ShelfRefused) as refusal:
        messages.error(request, str(refusal))
    return redirect(way_back(request.POST.get("back", ""), f"{reverse('order', args=[number])}#parts"))
