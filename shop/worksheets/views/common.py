"""What the step's views share: finding the step, and answering a page or a script with the same pieces."""

from django.http import Http404, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import redirect, render
from django.template.loader import get_template, render_to_string
from django.urls import reverse

from shop.worksheets import queries
from shop.worksheets.device import device_of, unit_of
from shop.worksheets.shown.step_page import StepPage

WANTS_JSON = "application/json"


def step_or_404(worksheet, key):
    step = worksheet.family_plan.step(key) if worksheet.family_plan else None
    if step is None:
        raise Http404("This worksheet has no such step.")
    return step


def page_of(request, worksheet, step, *, stamp=None, **more):
    # The stamp is taken first: what another hand saves while the page is made, the page then asks for.
    stamp = stamp or queries.stamp(worksheet)
    return StepPage.of(worksheet, step, unit=unit_of(request), stamp=stamp, used=device_of(request).gauges,
                       may_work=request.user.may("work worksheets"), **more)  # fmt: skip


def by_script(request):
    return request.headers.get("Accept", "").startswith(WANTS_JSON)


def show_step(request, page, status=200):
    return render(request, "worksheets/step.html", {"page": page, "worksheet": page.worksheet}, status=status)


PIECES = ("rail", "findings", "since", "drawings", "mark", "notes", "photos", "time")


def pieces(request, page):
    """The parts of the page that a reading can change, by the name under which the page keeps them."""
    # One plain context: the context processors of a whole page would run again for every piece.
    context = {
        "page": page, "worksheet": page.worksheet, "request": request, "may": request.user.capabilities,
        "csrf_token": get_token(request),
    }  # fmt: skip
    made = {name: render_to_string(f"worksheets/_{name}.html", context) for name in PIECES}
    beside = get_template("worksheets/_beside.html")
    # Most fields have nothing to say: an empty piece needs no template.
    return made | {
        f"beside-{cell.id}": beside.render(context | {"cell": cell}) if cell.says_something else ""
        for cell in page.cells
    }


def fields(page):
    return {
        cell.id: {"value": cell.value, "basis": cell.basis, "state": cell.state, "gauge": cell.gauge,
                  "undo": cell.can_undo}
        for cell in page.cells
    }  # fmt: skip


def answer(request, page, *, status=200, **more):
    """The page's changeable parts as JSON, with a fresh token for the next request."""
    return JsonResponse(
        {
            "pieces": pieces(request, page), "fields": fields(page), "stamp": page.stamp,
            "token": get_token(request), **more,
        },
        status=status,
    )  # fmt: skip


def done_with(request, worksheet, step, *, then=None):
    """After an action: the pieces for a script, otherwise the page again (or `then`)."""
    worksheet.refresh_from_db()
    if by_script(request):
        return answer(request, page_of(request, worksheet, step))
    return redirect(then or step_address(worksheet, step.key))


def refused(request, worksheet, step, form, problem):
    """The page again with what was typed and why it was not taken."""
    page = page_of(request, worksheet, step, problems={form: str(problem)}, typed={form: request.POST})
    if by_script(request):
        return answer(request, page, status=422, problem=str(problem))
    return show_step(request, page, status=422)


def step_address(worksheet, key):
    return reverse("worksheet-step", args=[worksheet.pk, key])
