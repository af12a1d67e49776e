"""Time spent on a step: as the tablet saw it, and as somebody says it was."""

from django.http import JsonResponse
from django.middleware.csrf import get_token
from django.views.decorators.http import require_POST

from shop.staff.access import may
from shop.worksheets import access, services
from shop.worksheets.forms import SpanForm, TimeForm
from shop.worksheets.services.errors import Refused
from shop.worksheets.shown.times import TimeShown
from shop.worksheets.views.common import done_with, refused, step_or_404


@require_POST
@may("work worksheets")
def span(request, pk, step):
    """A stretch of work, from the page's own clock. Answers JSON with the time as it is now said."""
    sheet = access.worksheet_to_work(request.user, pk)
    place = step_or_404(sheet, step)
    form = SpanForm(request.POST)
    if not form.is_valid():
        return JsonResponse({"problem": "This stretch of time cannot be read."}, status=422)
    try:
        services.record_span(sheet, step=place.key, by=request.user, **form.cleaned_data)
    except Refused as problem:
        return JsonResponse({"problem": str(problem)}, status=422)
    shown = TimeShown.of(sheet, place)
    return JsonResponse({"step": shown.step, "sheet": shown.sheet, "token": get_token(request)})


@require_POST
@may("work worksheets")
def by_hand(request, pk, step):
    sheet = access.worksheet_to_work(request.user, pk)
    place = step_or_404(sheet, step)
    form = TimeForm(request.POST)
    if not form.is_valid():
        return refused(request, sheet, place, "time", form.problem())
    try:
        services.set_time(sheet, step=place.key, by=request.user, **form.cleaned_data)
    except Refused as problem:
        return refused(request, sheet, place, "time", problem)
    return done_with(request, sheet, place)
