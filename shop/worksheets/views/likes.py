"""How a player likes it: ranges of one instrument, or of a customer for one kind."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from shop.staff.access import may
from shop.worksheets import access, tastes
from shop.worksheets.forms import all_valid, taste_forms, typed_ranges
from shop.worksheets.shown.likes import LikesPage


@require_http_methods(["GET", "POST"])
@may("edit instruments")
def of_instrument(request, pk):
    one = access.instrument_liked(pk)
    page = LikesPage.of_instrument(one, unit=request.workshop.length_unit)
    return _edit(request, page, reverse("instrument", args=[pk]), instrument=one)


@require_http_methods(["GET", "POST"])
@may("edit instruments")
def of_customer(request, pk, kind):
    who = access.customer_liking(pk, kind)
    page = LikesPage.of_customer(who, kind, unit=request.workshop.length_unit)
    return _edit(request, page, reverse("customer", args=[pk]), customer=who)


def _edit(request, page, back, **of):
    data = request.POST if request.method == "POST" else None
    forms = taste_forms(page, data=data)
    valid = all_valid(forms)
    foretold = None
    if data and valid:
        ranges = typed_ranges(forms, page.ranges)
        if "look" not in data:
            tastes.save(ranges, by=request.user, kind=page.kind, **of)
            messages.success(request, "It is written down. Worksheets that have begun keep their own targets.")
            return redirect(back)
        foretold = page.foretold(ranges)
    shown = {"whose": page.whose, "says": page.says, "back": back, "ranges": forms, "foretold": foretold}
    return render(request, "worksheets/likes.html", shown, status=200 if not data or valid else 422)
