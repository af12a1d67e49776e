"""Overdue invoices, reminding of them, and the statement of all that a customer owes."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from shop.billing.models import Invoice
from shop.handover import access, dunning, letters, mails, stating
from shop.lib.dates import today
from shop.lib.keys import keys_of
from shop.lib.paging import page_of
from shop.lib.pdf import PdfUnavailable
from shop.lib.sheets import csv_download
from shop.orders.services import NotAllowed
from shop.people import access as people
from shop.staff.access import may

MOST_SAID = 5


@require_safe
@may("bill")
def reminders(request):
    found, sorting = dunning.overdue(request.user, request.GET)
    page = page_of(request, found)
    rows = dunning.looked_at(list(page))
    shown = {
        "rows": rows, "page": page, "sorting": sorting, "may_mail": sum(one.may_mail for one in rows),
        "by_post": sum(one.by_post for one in rows),
    }  # fmt: skip
    return render(request, "handover/reminders.html", shown)


@require_safe
@may("export")
def export(request):
    """The same list, every page of it, for a spreadsheet."""
    found = dunning.overdue(request.user, request.GET)[0]
    return csv_download(f"reminders-{today()}.csv", dunning.HEADS, dunning.rows(found))


@require_POST
@may("bill")
def remind_ticked(request):
    seen = Invoice.objects.for_person(request.user).issued().with_parties()
    ticked = seen.filter(pk__in=keys_of(request.POST.getlist("invoice")))
    try:
        done = dunning.remind_all(ticked[: dunning.MOST_AT_ONCE], by=request.user)
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


@require_POST
@may("bill")
def letter(request, pk):
    """Write the reminder that is due as a letter to be posted."""
    invoice = access.issued_invoice(request.user, pk)
    try:
        kept = letters.write(invoice, by=request.user)
    except (NotAllowed, PdfUnavailable) as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"The letter {kept.name} is made. Print it with the invoice, and post both.")
    return redirect("invoice", invoice.pk)


@require_POST
@may("bill")
def letter_taken_back(request, pk):
    """The letter was not posted after all."""
    invoice = access.issued_invoice(request.user, pk)
    try:
        letters.take_back(invoice, by=request.user)
    except NotAllowed as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, "The letter does not count as a reminder any more.")
    return redirect("invoice", invoice.pk)


@require_POST
@may("bill")
def mail_statement(request, pk):
    """Keep and mail what a customer owes today."""
    customer = people.customer(pk)
    try:
        queued = stating.mail_statement(customer, by=request.user)
    except (NotAllowed, PdfUnavailable) as refusal:
        messages.error(request, str(refusal))
        return redirect("customer", pk)
    if queued:
        messages.success(request, f"The statement goes to {queued.to}.")
    else:
        messages.warning(request, f"The statement is kept, to be printed. {mails.why_not(customer)}")
    return redirect("customer", pk)
