"""What is decided about a step: done, left out, open again; remarks; and how the strings go."""

from django.urls import reverse
from django.views.decorators.http import require_POST

from shop.instruments.kinds import Stringing
from shop.staff.access import may
from shop.worksheets import access, services
from shop.worksheets.evaluation import evaluate
from shop.worksheets.services.errors import Refused
from shop.worksheets.shown.rail import next_open
from shop.worksheets.views.common import done_with, refused, step_address, step_or_404


@require_POST
@may("work worksheets")
def done(request, pk, step):
    return _decide(request, pk, step, "done", services.mark_done, onward=True)


@require_POST
@may("work worksheets")
def skip(request, pk, step):
    return _decide(request, pk, step, "skip", services.skip_step, onward=True, reason=request.POST.get("reason", ""))


@require_POST
@may("work worksheets")
def reopen_step(request, pk, step):
    return _decide(request, pk, step, "done", services.take_back_mark)


@require_POST
@may("work worksheets")
def note(request, pk, step):
    return _decide(request, pk, step, "note", services.add_step_note, text=request.POST.get("text", ""))


@require_POST
@may("work worksheets")
def stringing(request, pk, step):
    sheet = access.worksheet_to_work(request.user, pk)
    place = step_or_404(sheet, step)
    wanted = request.POST.get("stringing", "")
    if wanted not in Stringing.values:
        return refused(request, sheet, place, "stringing", "Choose how the strings go.")
    try:
        services.set_stringing(sheet, stringing=wanted, by=request.user)
    except Refused as problem:
        return refused(request, sheet, place, "stringing", problem)
    return done_with(request, sheet, place)


def _decide(request, pk, step, form, act, *, onward=False, **given):
    sheet = access.worksheet_to_work(request.user, pk)
    place = step_or_404(sheet, step)
    try:
        act(sheet, step=place.key, by=request.user, **given)
    except Refused as problem:
        return refused(request, sheet, place, form, problem)
    then = None
    if onward:
        following = next_open(evaluate(sheet), place.key)
        then = step_address(sheet, following.key) if following else reverse("worksheet-sign", args=[pk])
    return done_with(request, sheet, place, then=then)
