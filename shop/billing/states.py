"""How an invoice stands, in words."""

from django.db import models


class InvoiceState(models.TextChoices):
    DRAFT = "draft", "draft"
    OPEN = "open", "open"
    PART_PAID = "part_paid", "part paid"
    PAID = "paid", "paid"
    CREDITED = "credited", "credited"
    CREDIT_NOTE = "credit_note", "credit note"


UNPAID = (InvoiceState.OPEN, InvoiceState.PART_PAID)


def standing(*, total, received, is_credited):
    """The state of an issued invoice of which `received` has been paid so far."""
    if is_credited:
        return InvoiceState.CREDITED
    if received >= total:
        return InvoiceState.PAID
    return InvoiceState.PART_PAID if received > 0 else InvoiceState.OPEN
