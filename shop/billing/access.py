"""Fetching what is about money. A paper is seen where its order is, and where it was issued."""

from django.db.models import Q
from django.shortcuts import get_object_or_404

from shop.billing.models import Invoice, Payment
from shop.staff.branching import reach, within

SHOWN = ("order__instrument", "customer", "balance", "corrects", "credit_note", "issued_by")


def issued_invoice(person, pk, *, shown=SHOWN):
    """An issued invoice or credit note with all that is `shown` of it, or 404; a draft has no page of its own."""
    rows, keys = Invoice.objects.issued().select_related(*shown), reach(person)
    if keys is not None:
        rows = rows.filter(Q(branch__in=keys) | Q(order__branch__in=keys))
    return get_object_or_404(rows, pk=pk)


def payment(person, pk):
    """The payment with its order, or 404."""
    return get_object_or_404(within(Payment.objects.select_related("order"), person, "order__branch"), pk=pk)
