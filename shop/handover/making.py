"""Papers that there is one of: made when they are first wanted, kept from then on. Rendering holds no transaction."""

from shop.handover import papers
from shop.handover.models import Paper, PaperKind
from shop.orders.models import WorkOrder
from shop.orders.services import taken_in_at
from shop.staff.branching import place_at
from shop.staff.models import Workshop


def about_invoice(invoice):
    return f"invoice:{invoice.pk}"


def about_receipt(order):
    """One receipt for all that came in the same visit."""
    return f"receipt:{order.visit.hex}"


def invoice_paper(invoice, *, by=None):
    """The kept PDF of an issued invoice or credit note."""
    known = Paper.objects.about(about_invoice(invoice))
    if known:
        return known
    workshop = Workshop.here()
    content = papers.invoice_pdf(invoice, workshop)
    kind = PaperKind.CREDIT_NOTE if invoice.is_credit_note else PaperKind.INVOICE
    name = papers.file_name(workshop, PaperKind(kind).label, invoice.number)
    return papers.keep(invoice.order, kind, content, name=name, by=by, about=about_invoice(invoice))


def receipt_paper(order, *, by=None):
    """The kept intake receipt of the visit in which `order` came; it is filed with the first order of the visit.

    It speaks for the branch that took the visit in and names all that came, also what went to another branch since.
    """
    known = Paper.objects.about(about_receipt(order))
    if known:
        return known
    orders = list(WorkOrder.objects.with_parties().of_visit(order))
    workshop = place_at(taken_in_at(orders[0]), Workshop.here())
    content = papers.receipt_pdf(orders, workshop)
    name = papers.file_name(workshop, "receipt", *(one.number for one in orders))
    return papers.keep(orders[0], PaperKind.RECEIPT, content, name=name, by=by, about=about_receipt(order))


def make_what_it_carries(mail):
    """Make the paper that a waiting mail was promised, and attach it. Nothing to do for most mails."""
    if mail.makes == PaperKind.RECEIPT:
        mail.papers.add(receipt_paper(mail.order, by=mail.by))
