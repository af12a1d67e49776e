"""Kept papers, served as they were kept, and the receipt."""

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from shop.billing.einvoice.xmp import FILE_NAME
from shop.handover import access, making
from shop.handover.models import PaperDamaged
from shop.lib.pdf import PdfUnavailable, attached
from shop.orders import access as orders
from shop.staff.access import may


@require_safe
@may("see orders")
def paper(request, pk, name):
    one = access.paper(request.user, pk)
    try:
        content = one.read()
    except PaperDamaged as damage:
        return render(request, "handover/damaged.html", {"paper": one, "why": str(damage)}, status=404)
    answer = HttpResponse(content, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{one.name}"'
    answer["Cache-Control"] = "private, no-store"
    return answer


@require_safe
@may("see money")
def invoice_pdf(request, pk):
    """The kept paper of an issued invoice; made now, should it have been interrupted when it was issued."""
    return _kept(request, making.invoice_paper, access.issued_invoice(request.user, pk))


@require_safe
@may("see money")
def invoice_xml(request, pk):
    """The XML that the kept paper carries, alone: the same bytes."""
    invoice = access.issued_invoice(request.user, pk)
    try:
        xml = attached(making.invoice_paper(invoice, by=request.user).read(), FILE_NAME)
    except (PdfUnavailable, PaperDamaged) as problem:
        return render(request, "handover/damaged.html", {"why": str(problem)}, status=503)
    if xml is None:
        raise Http404("This paper carries no electronic invoice.")
    answer = HttpResponse(xml, content_type="application/xml")
    answer["Content-Disposition"] = f'attachment; filename="{invoice.number}.xml"'
    answer["Cache-Control"] = "private, no-store"
    return answer


@require_safe
@may("see orders")
def receipt(request, number):
    return _kept(request, making.receipt_paper, orders.order(request.user, number))


def _kept(request, make, about):
    try:
        one = make(about, by=request.user)
    except PdfUnavailable as problem:
        return render(request, "handover/damaged.html", {"why": str(problem)}, status=503)
    return redirect("paper", one.pk, one.name)
