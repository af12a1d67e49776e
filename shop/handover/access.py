"""Fetching papers and mails, and the right to see them: 404 unknown, 403 forbidden."""

from django.core.exceptions import PermissionDenied
from django.shortcuts import get_object_or_404

from shop.billing.models import Invoice
from shop.handover.models import OutgoingMail, Paper, PaperKind, SilencedAddress

ABOUT_MONEY = (PaperKind.INVOICE, PaperKind.CREDIT_NOTE, PaperKind.QUOTE, PaperKind.STATEMENT)


def paper(person, pk):
    """A kept paper, if `person` may see what stands on it."""
    one = get_object_or_404(Paper.objects.select_related("order"), pk=pk)
    capability = "see money" if one.kind in ABOUT_MONEY else "see orders"
    if not person.may(capability):
        raise PermissionDenied(f"This needs the right to {capability}.")
    return one


def paper_of(order, pk):
    """A kept paper of this very order or of its visit, or 404."""
    return get_object_or_404(Paper.objects.of_order(order), pk=pk)


def issued_invoice(pk):
    """An issued invoice or credit note with its order and parties, or 404."""
    rows = Invoice.objects.issued().select_related(
        "order__customer", "order__instrument", "balance", "corrects", "credit_note"
    )
    return get_object_or_404(rows, pk=pk)


def mail(pk):
    return get_object_or_404(OutgoingMail.objects.with_parties(), pk=pk)


def silenced_address(pk):
    return get_object_or_404(SilencedAddress, pk=pk)
