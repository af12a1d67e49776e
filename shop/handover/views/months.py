"""A month's papers, made and handed over."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from shop.billing.month_views import month_asked
from shop.handover import month as papers_of_month
from shop.lib.pdf import PdfUnavailable
from shop.lib.streamed import zip_download
from shop.staff import exports
from shop.staff.access import may


@require_safe
@may("see money")
def papers(request, year, month):
    asked = month_asked(request, year, month)
    answer = zip_download(f"papers-{asked.year}-{asked.month:02d}.zip", papers_of_month.zipped(asked))
    exports.note(request)
    answer["Cache-Control"] = "private, no-store"
    return answer


@require_POST
@may("bill")
def make(request, year, month):
    """Make a few of the missing papers and say how far it is; the page asks again until nothing is missing."""
    asked = month_asked(request, year, month)
    problem = ""
    try:
        papers_of_month.make_missing(asked, by=request.user, most=papers_of_month.AT_ONCE)
    except PdfUnavailable as error:
        problem = str(error)
    if not request.htmx:
        if problem:
            messages.error(request, problem)
        return redirect("month", year, month)
    progress = papers_of_month.progress_of(asked)
    shown = {
        "month": asked, "progress": progress, "problem": problem, "goes_on": progress.missing and not problem,
        "may": request.user.capabilities,
    }  # fmt: skip
    return render(request, "handover/_month_papers.html", shown)
