"""A finding is taken on by name, or that is withdrawn. Both come from a step or from the sign-off page."""

from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from shop.staff.access import may
from shop.worksheets import access, services
from shop.worksheets.services.errors import Refused
from shop.worksheets.views.common import done_with, refused, step_or_404
from shop.worksheets.views.signing import show_sign


@require_POST
@may("work worksheets")
def accept(request, pk):
    return _act(request, pk, services.accept_finding, reason=request.POST.get("reason", ""))


@require_POST
@may("work worksheets")
def withdraw(request, pk):
    return _act(request, pk, services.withdraw_acceptance)


def _act(request, pk, act, **given):
    sheet = access.worksheet_to_work(request.user, pk)
    key, step = request.POST.get("finding", "")[:60], request.POST.get("step", "")
    place = step_or_404(sheet, step) if step else None
    try:
        act(sheet, finding_key=key, by=request.user, **given)
    except Refused as problem:
        if place is None:
            return show_sign(request, sheet, problems={key: str(problem)}, typed={key: request.POST}, status=422)
        return refused(request, sheet, place, key, problem)
    return done_with(request, sheet, place) if place else redirect("worksheet-sign", pk)
