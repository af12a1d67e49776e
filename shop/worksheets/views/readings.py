"""One reading comes in, is chosen among rivals, or is taken back."""

from django.http import Http404, JsonResponse
from django.middleware.csrf import get_token
from django.views.decorators.http import require_POST

from shop.staff.access import may
from shop.worksheets import access, services
from shop.worksheets.device import device_of, keep
from shop.worksheets.forms import PlainForm, ReadingForm
from shop.worksheets.services.errors import Refused, UnknownPlace
from shop.worksheets.shown.typed import answer_of
from shop.worksheets.views.common import done_with, page_of, refused, step_or_404


@require_POST
@may("work worksheets")
def save(request, pk, step):
    """Answers JSON: what became of the reading. What it means for the sheet the page asks of `live` at once.

    Storing comes first and alone, so that it stays quick whatever the checks and drawings of the step cost.
    """
    sheet = access.worksheet_to_type_into(request.user, pk)
    place = step_or_404(sheet, step)
    here, form = device_of(request), ReadingForm(request.POST)
    unit = here.unit or request.workshop.length_unit
    if not form.is_valid():
        return JsonResponse({"status": "unsent", "problem": form.problem()}, status=422)
    try:
        given = form.cleaned_data | {"unit": form.cleaned_data["unit"] or unit}
        saved = services.save_reading(sheet, step=place.key, by=request.user, **given)
    except UnknownPlace as problem:
        raise Http404(str(problem)) from problem
    told = answer_of(saved, unit=unit) | {"token": get_token(request)}
    answer = JsonResponse(told, status=409 if saved.status == "closed" else 200)
    after = here.with_gauge(given["key"], given["gauge"])
    return answer if after is here else keep(answer, after)


@require_POST
@may("work worksheets")
def save_all(request, pk, step):
    """Every field of the step that was changed, from a page without scripts."""
    sheet = access.worksheet_to_work(request.user, pk)
    place = step_or_404(sheet, step)
    form = PlainForm(request.POST)
    if not form.is_valid():
        return refused(request, sheet, place, "readings", "Open the step again, and save once more.")
    for given in form.changed(page_of(request, sheet, place).groups):
        saved = services.save_reading(sheet, step=place.key, by=request.user, **given)
        if saved.status == "closed":
            return refused(request, sheet, place, "readings", saved.problem)
    return done_with(request, sheet, place)


@require_POST
@may("work worksheets")
def choose(request, pk, step):
    return _settle(request, pk, step, services.choose_reading)


@require_POST
@may("work worksheets")
def undo(request, pk, step):
    return _settle(request, pk, step, services.undo_reading)


def _settle(request, pk, step, act):
    sheet = access.worksheet_to_work(request.user, pk)
    place = step_or_404(sheet, step)
    reading = request.POST.get("reading", "")
    if not reading.isdecimal():
        return refused(request, sheet, place, "readings", "Say which reading is meant.")
    try:
        act(sheet, reading=int(reading), by=request.user)
    except Refused as problem:
        return refused(request, sheet, place, "readings", problem)
    return done_with(request, sheet, place)
