"""Fetching papers and mails, and the right to see them: 404 unknown, 403 forbidden."""

from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import get_object_or_404

from shop.billing import access as billing
from shop.billing.models import Invoice
from shop.handover.models import ABOUT_MONEY, OutgoingMail, Paper, SilencedAddress
from shop.orders.models import WorkOrder
from shop.staff.branching import reach


def paper(person, pk):
    """A kept paper, if `person` may see what stands on it."""
    one = get_object_or_404(Paper.objects.select_related("order"), pk=pk)
    if not _is_seen(person, one):
        raise Http404("There is no such paper.")
    capability = "see money" if one.kind in ABOUT_MONEY else "see orders"
    if not person.may(capability):
        raise PermissionDenied(f"This needs the right to {capability}.")
    return one


def paper_of(order, pk):
    """A kept paper of this very order or of its visit, or 404."""
    return get_object_or_404(Paper.objects.of_order(order), pk=pk)


def _is_seen(person, paper):
    """Papers of orders that `person` sees, and of invoices that their branches have issued."""
    keys = reach(person)
    if keys is None or paper.order.branch_id in keys:
        return True
    kind, _, key = paper.about.partition(":")
    if kind == "receipt":  # of all that came in one visit
        return WorkOrder.objects.for_person(person).of_visit(paper.order).exists()
    return kind == "invoice" and Invoice.objects.filter(pk=key, branch__in=keys).exists()


def issued_invoice(person, pk):
    """An issued invoice or credit note with its order and parties, or 404."""
    shown = ("order__customer", "order__instrument", "balance", "corrects", "credit_note")
    return billing.issued_invoice(person, pk, shown=shown)


def mail(person, pk):
    return get_object_or_404(OutgoingMail.objects.for_person(person).with_parties(), pk=pk)


def silenced_address(pk):
    return get_object_or_404(SilencedAddress, pk=pk)
