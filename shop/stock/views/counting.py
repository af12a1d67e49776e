"""Counting with a telephone: one item a card."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from shop.staff.access import may
from shop.staff.branching import here
from shop.stock import access, counting, services
from shop.stock.forms.shelf import CountForm
from shop.stock.levels import level_of


@require_safe
@may("move stock")
def begin(request):
    key = counting.first(here(request))
    return redirect("count-card", key) if key else render(request, "stock/count_nothing.html")


@require_http_methods(["GET", "HEAD", "POST"])
@may("move stock")
def card(request, pk):
    item, branch = access.part(pk), here(request)
    walk = counting.walk_at(item, branch)
    form = CountForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        before = level_of(item, branch).on_hand
        done = services.count(item, by=request.user, branch=branch, **form.cleaned_data)
        messages.success(request, f"{item}: {done.on_hand:g} counted, {before:g} were on file.")
        return redirect("count-card", walk.after) if walk.after else redirect("shelf")
    shows = {"item": item, "walk": walk, "form": form, "level": level_of(item, branch)}
    return render(request, "stock/count_card.html", shows, status=422 if form.is_bound else 200)
