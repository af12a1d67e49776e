"""A month's journal, and what a customer owes, on screen, as a table and as papers."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from shop.billing import journal, statements
from shop.lib.dates import today
from shop.lib.pdf import PdfUnavailable
from shop.lib.sheets import csv_download
from shop.people import access as people
from shop.staff.access import may
from shop.staff.branch_forms import OfBranches


def month_asked(request, year, month):
    """The month as its branches' books have it: all that the person sees, or the one that the address asks for."""
    found = journal.Month(year, month, OfBranches(request.GET, person=request.user).keys)
    if not found.is_known:
        raise Http404("There is no such month.")
    return found


@require_safe
@may("see money")
def month_now(request):
    return redirect("month", today().year, today().month)


@require_safe
@may("see money")
def month(request, year, month):
    asked = month_asked(request, year, month)
    shown = {
        "month": asked, "sums": journal.sums_now(asked), "moved": journal.moved(asked),
        "form": OfBranches(request.GET, person=request.user), "is_running": asked.last >= today(),
        "may_go_on": asked.first <= today(),
    }  # fmt: skip
    return render(request, "billing/month.html", shown)


@require_safe
@may("export")
def month_csv(request, year, month):
    asked = month_asked(request, year, month)
    name = f"journal-{asked.year}-{asked.month:02d}.csv"
    return csv_download(name, journal.CSV_HEADS, journal.csv_rows(asked))


@require_safe
@may("see money")
def month_pdf(request, year, month):
    asked = month_asked(request, year, month)
    try:
        content = statements.journal_pdf(asked, request.workshop)
    except (statements.TooLong, PdfUnavailable) as problem:
        messages.error(request, str(problem))
        return redirect("month", year, month)
    return _pdf(content, f"journal-{asked.year}-{asked.month:02d}.pdf")


@require_safe
@may("see money")
def statement(request, pk):
    customer = people.customer(pk)
    try:
        rows = statements.owed_by(customer, request.user)
        content = statements.statement_pdf(customer, request.workshop, rows)
    except PdfUnavailable as problem:
        messages.error(request, str(problem))
        return redirect("customer", pk)
    return _pdf(content, f"statement-{pk}.pdf")


def _pdf(content, name):
    answer = HttpResponse(content, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}"'
    answer["Cache-Control"] = "private, no-store"
    return answer
