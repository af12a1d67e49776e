"""Issuing, correcting and mailing an invoice: what needs billing and papers at once."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from shop.handover import access, dunning, mails, services
from shop.handover.forms import CreditForm
from shop.lib.pdf import PdfUnavailable
from shop.orders import access as orders
from shop.orders.services import NotAllowed
from shop.staff.access import may


@require_POST
@may("bill")
def issue(request, number):
    try:
        issued = services.issue_invoice(orders.order(request.user, number), by=request.user)
    except (NotAllowed, PdfUnavailable) as refusal:
        messages.error(request, str(refusal))
        return redirect("order-money", number)
    messages.success(request, f"Invoice {issued.number} is issued.")
    return redirect("invoice", issued.pk)


@require_http_methods(["GET", "HEAD", "POST"])
@may("bill")
def credit(request, pk):
    invoice = access.issued_invoice(request.user, pk)
    form = CreditForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            note, _ = services.credit_invoice(invoice, by=request.user, **form.cleaned_data)
        except NotAllowed as refusal:
            form.add_error("reason", str(refusal))
        else:
            messages.success(request, f"Credit note {note.number} is written; the order's lines are free again.")
            return redirect("invoice", note.pk)
    shown = {"invoice": invoice, "form": form, "why_not_mailed": mails.why_not(invoice.order.customer)}
    return render(request, "handover/credit.html", shown, status=422 if form.errors else 200)


@require_POST
@may("bill")
def mail(request, pk):
    return _mailed(request, access.issued_invoice(request.user, pk), services.mail_invoice, "The paper goes to {}.")


@require_POST
@may("bill")
def remind(request, pk):
    return _mailed(request, access.issued_invoice(request.user, pk), dunning.remind, "A reminder goes to {}.")


def _mailed(request, invoice, service, said):
    try:
        queued = service(invoice, by=request.user)
    except (NotAllowed, PdfUnavailable) as refusal:
        messages.error(request, str(refusal))
    else:
        if queued:
            messages.success(request, said.format(queued.to))
        else:
            messages.warning(request, mails.why_not(invoice.order.customer))
    return redirect("invoice", invoice.pk)
