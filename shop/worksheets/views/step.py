"""A worksheet's step: the page, and what a script asks of it between whiles."""

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from shop.staff.access import may
from shop.worksheets import access, queries
from shop.worksheets.device import unit_of
from shop.worksheets.evaluation import evaluate
from shop.worksheets.shown.history import history_of
from shop.worksheets.shown.rail import current_step
from shop.worksheets.views.common import answer, page_of, show_step, step_or_404


@require_safe
@may("see worksheets")
def worksheet(request, pk):
    """On to the step where the work stands; a signed sheet is read as a whole."""
    sheet = access.worksheet_to_see(request.user, pk)
    if sheet.is_signed:
        return redirect("worksheet-compare", pk)
    here = current_step(evaluate(sheet, unit=unit_of(request)))
    return redirect("worksheet-step", pk, here.key) if here else redirect("bench")


@require_safe
@may("see worksheets")
def step(request, pk, step):
    sheet = access.worksheet_to_see(request.user, pk)
    return show_step(request, page_of(request, sheet, step_or_404(sheet, step)))


@require_safe
@may("see worksheets")
def live(request, pk, step):
    """204 when nothing has changed since the stamp that the page holds, otherwise its changeable parts."""
    sheet = access.worksheet_to_see(request.user, pk)
    stamp = queries.stamp(sheet)
    if request.GET.get("since") == stamp:
        return HttpResponse(status=204)
    return answer(request, page_of(request, sheet, step_or_404(sheet, step), stamp=stamp))


@require_safe
@may("see worksheets")
def history(request, pk, step):
    """Everything that was ever typed at one place, newest first."""
    sheet = access.worksheet_to_see(request.user, pk)
    found = history_of(sheet, step_or_404(sheet, step), request.GET, unit=unit_of(request))
    return render(request, "worksheets/_history.html", {"history": found, "worksheet": sheet})
