"""One order: its page, and what is done on it. Each action is one address, and leads back to the page."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.images import ImageRefused
from shop.orders import access, services
from shop.orders.forms.details import BranchForm, DetailsForm, MoveForm, NoteForm, PromiseForm, RackForm
from shop.orders.forms.marks import MarkPhotoForm, MarkWithFileForm
from shop.orders.models import WorkOrder
from shop.orders.page import OrderPage
from shop.orders.promising import overload
from shop.orders.states import MOVE_NEEDS, State
from shop.orders.views.common import attempt, show_order
from shop.staff.access import may, need
from shop.staff.branching import place_of


@require_safe
@may("see orders")
def order(request, number):
    return show_order(request, access.order(request.user, number))


@require_POST
@may("move orders")
def move(request, number, to):
    one = access.order(request.user, number)
    if to not in State.values:
        return show_order(request, one, problem="There is no such state.", status=422)
    need(request.user, MOVE_NEEDS.get(to, "move orders"))
    form = MoveForm(request.POST)
    if not form.is_valid():
        return show_order(request, one, forms={"move": form}, moving=to, status=422)
    reason = form.cleaned_data["reason"]
    try:
        services.move(one, to, by=request.user, reason=reason)
    except services.NotAllowed as refusal:
        if not services.is_offered(one, to):  # the page was old: its move is not there any more
            return show_order(request, one, problem=str(refusal), status=422)
        form.add_error("reason", str(refusal))
        return show_order(request, one, forms={"move": form}, moving=to, status=422)
    messages.success(request, f"{one} is now {one.get_state_display()}.")
    return redirect("order", number)


@require_POST
@may("move orders")
def promise(request, number):
    one = access.order(request.user, number)
    form = PromiseForm(request.POST, place=place_of(one, request.workshop))
    if not form.is_valid():
        return show_order(request, one, forms={"promise": form}, status=422)
    read = form.cleaned_data
    done = attempt(
        request, one, lambda: services.promise(one, read["promised_on"], by=request.user, reason=read["reason"]),
        says="The promise is written down.",
    )  # fmt: skip
    if warning := overload(read["promised_on"], place=place_of(one, request.workshop)):
        messages.warning(request, warning)
    return done


@require_POST
@may("move orders")
def rack(request, number):
    one = access.order(request.user, number)
    form = RackForm(request.POST)
    if not form.is_valid():
        return show_order(request, one, forms={"rack": form}, status=422)
    slot = form.cleaned_data["rack_slot"]
    return attempt(
        request, one, lambda: services.put_on_rack(one, slot, by=request.user), says=f"Rack: {slot or 'none'}."
    )


@require_POST
@may("move branches")
def branch(request, number):
    """To another branch; whoever does not work there sees it no more."""
    one = access.order(request.user, number)
    form = BranchForm(request.POST, order=one)
    if not form.is_valid():
        return show_order(request, one, forms={"branch": form}, status=422)
    try:
        services.move_to_branch(one, form.cleaned_data["to"], by=request.user, reason=form.cleaned_data["reason"])
    except services.NotAllowed as refusal:
        form.add_error("to", str(refusal))
        return show_order(request, one, forms={"branch": form}, status=422)
    messages.success(request, f"{one} is in {form.cleaned_data['to']} now.")
    is_seen = WorkOrder.objects.for_person(request.user).filter(pk=one.pk).exists()
    return redirect("order", number) if is_seen else redirect("orders")


@require_POST
@may("move orders")
def note(request, number):
    one = access.order(request.user, number)
    form = NoteForm(request.POST)
    if not form.is_valid():
        return show_order(request, one, forms={"note": form}, status=422)
    text = form.cleaned_data["text"]
    return attempt(request, one, lambda: services.add_note(one, text, by=request.user), says="Written down.")


@require_POST
@may("move orders")
def add_mark(request, number):
    one = access.order(request.user, number)
    form = MarkWithFileForm(request.POST, request.FILES, prefix="mark")
    if not form.is_valid() or form.is_blank:
        if form.is_valid():
            form.add_error("note", "Tap the drawing or choose a place, and say what is there.")
        return show_order(request, one, forms={"mark": form}, status=422)
    x, y = form.at(one.instrument.hand)
    read = form.cleaned_data
    mark = {"side": read["side"], "x": x, "y": y, "note_text": read["note"], "file": read["file"]}
    try:
        services.add_mark(one, by=request.user, **mark)
    except (services.NotAllowed, ImageRefused) as refusal:
        form.add_error("file" if read["file"] else "note", str(refusal))
        return show_order(request, one, forms={"mark": form}, status=422)
    messages.success(request, "The mark is written down.")
    return redirect(f"{reverse('order', args=[number])}#condition")


@require_POST
@may("move orders")
def photograph_mark(request, number, pk):
    mark, form = access.mark(request.user, number, pk), MarkPhotoForm(request.POST, request.FILES)
    try:
        if form.is_valid():
            services.photograph_mark(mark, form.cleaned_data["file"], by=request.user)
            messages.success(request, "The photograph is kept with its mark.")
        else:
            messages.error(request, form.errors["file"][0])
    except (services.NotAllowed, ImageRefused) as refusal:
        messages.error(request, str(refusal))
    return redirect(f"{reverse('order', args=[number])}#condition")


@require_POST
@may("move orders")
def remove_mark(request, number, pk):
    mark = access.mark(request.user, number, pk)
    return attempt(
        request, mark.order, lambda: services.remove_mark(mark, by=request.user), says="The mark is taken off.",
        at="condition",
    )  # fmt: skip


@require_http_methods(["GET", "POST"])
@may("move orders")
def details(request, number):
    form = DetailsForm(request.POST or None, instance=access.order(request.user, number))
    one = access.order(request.user, number)
    if request.method == "POST" and form.is_valid():
        changes = form.changes
        return attempt(
            request, one, lambda: services.change_details(one, changes, by=request.user),
            says="Saved." if changes else "Nothing was changed.",
        )  # fmt: skip
    shows = {"form": form, "page": OrderPage.of(one)}
    return render(request, "orders/order_details.html", shows, status=422 if form.is_bound else 200)
