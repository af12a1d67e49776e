"""One reading comes in, is chosen among rivals, or is taken back."""

from django.http import Http404, JsonResponse
from django.views.decorators.http import require_POST

from shop.staff.access import may
from shop.worksheets import access, services
from shop.worksheets.forms import ReadingForm
from shop.worksheets.services.errors import Refused, UnknownPlace
from shop.worksheets.views.common import answer, done_with, page_of, refused, step_or_404


@require_POST
@may("work worksheets")
def save(request, pk, step):
    """Answers JSON: what became of the reading, and the parts of the page that it changed."""
    sheet = access.worksheet_to_work(request.user, pk)
    place = step_or_404(sheet, step)
    form = ReadingForm(request.POST)
    if not form.is_valid():
        return JsonResponse({"status": "unsent", "problem": form.problem()}, status=422)
    try:
        saved = services.save_reading(sheet, step=place.key, by=request.user, **form.cleaned_data)
    except UnknownPlace as problem:
        raise Http404(str(problem)) from problem
    sheet.refresh_from_db()
    status = 409 if saved.status == "closed" else 200
    shown = step_or_404(sheet, request.POST.get("shown") or step)
    return answer(request, page_of(request, sheet, shown), status=status, status_word=saved.status,
                  problem=saved.problem, stale=list(saved.stale),
                  basis=saved.basis)  # fmt: skip


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
