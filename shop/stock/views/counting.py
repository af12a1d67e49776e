"""Counting with a telephone: one item a card."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from shop.staff.access import may
from shop.stock import access, counting, services
from shop.stock.forms.shelf import CountForm
from shop.stock.levels import level_of


@require_safe
@may("move stock")
def begin(request):
    key = counting.first()
    return redirect("count-card", key) if key else render(request, "stock/count_nothing.html")


@require_http_methods(["GET", "HEAD", "POST"])
@may("move stock")
def card(request, pk):
    item = access.part(pk)
    walk = counting.walk_at(item)
    form = CountForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        before = level_of(item).on_hand
        done = services.count(item, by=request.user, **form.cleaned_data)
        messages.success(request, f"{item}: {done.on_hand:g} counted, {before:g} were on file.")
        return redirect("count-card", walk.after) if walk.after else redirect("shelf")
    shows = {"item": item, "walk": walk, "form": form, "level": level_of(item)}
    return render(request, "stock/count_card.html", shows, status=422 if form.is_bound else 200)
