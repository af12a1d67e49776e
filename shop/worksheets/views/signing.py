"""How it came against how it left, and the sign-off."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.staff.access import may
from shop.worksheets import access, services
from shop.worksheets.device import unit_of
from shop.worksheets.forms import SignForm
from shop.worksheets.services.errors import NotYet, Refused
from shop.worksheets.shown.signing import ComparePage, SignPage


@require_safe
@may("see worksheets")
def compare(request, pk):
    sheet = access.worksheet_to_see(request.user, pk)
    page = ComparePage(sheet, unit=unit_of(request))
    return render(request, "worksheets/compare.html", {"page": page, "worksheet": sheet})


@require_http_methods(["GET", "POST"])
@may("sign worksheets")
def sign(request, pk):
    sheet = access.worksheet_to_sign(request.user, pk)
    if request.method != "POST":
        return show_sign(request, sheet)
    form = SignForm(request.POST)
    if not form.is_valid():
        return show_sign(request, sheet, form=form, status=422)
    try:
        signed = services.sign_off(sheet, by=request.user, **form.cleaned_data)
    except NotYet as open_still:
        return show_sign(request, sheet, form=form, reasons=open_still.reasons, status=422)
    except Refused as problem:
        return show_sign(request, sheet, form=form, reasons=[str(problem)], status=422)
    messages.success(request, f"The worksheet of {signed.order.number} is signed.")
    return redirect("worksheet-compare", pk)


@require_POST
@may("sign worksheets")
def reopen(request, pk):
    sheet = access.worksheet_to_sign(request.user, pk)
    reason = request.POST.get("reason", "")
    try:
        services.reopen(sheet, reason=reason, by=request.user)
    except Refused as problem:
        page = ComparePage(sheet, unit=unit_of(request))
        context = {"page": page, "worksheet": sheet, "problem": str(problem), "reason": reason}
        return render(request, "worksheets/compare.html", context, status=422)
    return redirect("worksheet", pk)


def show_sign(request, sheet, *, form=None, reasons=(), problems=None, typed=None, status=200):
    page = SignPage(sheet, unit=unit_of(request), reasons=reasons, problems=problems, typed=typed)
    context = {"page": page, "worksheet": sheet, "form": form or SignForm(initial=page.initial)}
    return render(request, "worksheets/sign.html", context, status=status)
