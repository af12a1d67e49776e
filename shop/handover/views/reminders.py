"""Overdue invoices, and reminding of them."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from shop.billing.models import Invoice
from shop.handover import dunning
from shop.lib.keys import keys_of
from shop.lib.pdf import PdfUnavailable
from shop.staff.access import may

MOST_SAID = 5


@require_safe
@may("bill")
def reminders(request):
    rows, count = dunning.overdue()
    shown = {"rows": rows, "count": count, "may_go": sum(not one.why_not for one in rows)}
    return render(request, "handover/reminders.html", shown)


@require_POST
@may("bill")
def remind_ticked(request):
    ticked = Invoice.objects.issued().with_parties().filter(pk__in=keys_of(request.POST.getlist("invoice")))
    try:
        done = dunning.remind_all(ticked[: dunning.MOST_SHOWN], by=request.user)
    except PdfUnavailable as problem:
        messages.error(request, str(problem))
        return redirect("reminders")
    if done.queued:
        messages.success(request, f"{done.queued} reminder{'s' if done.queued > 1 else ''} put in the mail.")
    for sentence in done.refused[:MOST_SAID]:
        messages.warning(request, sentence)
    if not done.queued and not done.refused:
        messages.warning(request, "No invoice was ticked.")
    return redirect("reminders")
