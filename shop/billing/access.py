"""Fetching what is about money."""

from django.shortcuts import get_object_or_404

from shop.billing.models import Invoice, Payment

SHOWN = ("order__instrument", "customer", "balance", "corrects", "credit_note", "issued_by")


def issued_invoice(pk):
    """An issued invoice or credit note with all that its page shows, or 404; a draft has no page of its own."""
    return get_object_or_404(Invoice.objects.issued().select_related(*SHOWN), pk=pk)


def payment(pk):
    """The payment with its order, or 404."""
    return get_object_or_404(Payment.objects.select_related("order"), pk=pk)
