"""The plan of a worksheet, what if, and work offered from it."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from shop.staff.access import may
from shop.worksheets import access, services
from shop.worksheets.device import unit_of
from shop.worksheets.planning_forms import OfferForm, WhatIfForm
from shop.worksheets.services.errors import Refused
from shop.worksheets.shown.plan_page import PlanPage


@require_safe
@may("see worksheets")
def plan(request, pk):
    sheet = access.worksheet_to_see(request.user, pk)
    return show_plan(request, sheet)


@require_POST
@may("edit lines")
def offer(request, pk):
    sheet = access.worksheet_to_see(request.user, pk)
    form = OfferForm(request.POST)
    work = request.POST.get("work", "")
    if not form.is_valid():
        return show_plan(request, sheet, work=work, problem=form.problem(), status=422)
    try:
        line, is_new = services.offer_work(
            sheet, by=request.user, tax_rate=request.workshop.tax_rate, **form.cleaned_data
        )
    except Refused as problem:
        return show_plan(request, sheet, work=work, problem=str(problem), status=422)
    says = "Proposed, and waits for the customer's answer" if is_new else "On the order already"
    messages.success(request, f"{says}: {line.text}.")
    return redirect("worksheet-plan", pk)


def show_plan(request, sheet, *, work="", problem="", status=200):
    form = WhatIfForm(request.GET, worksheet=sheet)
    page = PlanPage(
        sheet, form, unit=unit_of(request), may_offer=request.user.may("edit lines"),
        problems={work: problem}, typed={work: request.POST.get("price", "")},
    )  # fmt: skip
    status = 422 if not form.is_valid() else status
    return render(request, "worksheets/plan.html", {"page": page, "worksheet": sheet, "form": form}, status=status)
