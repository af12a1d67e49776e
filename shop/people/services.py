"""What is done to a customer's record."""

from django.db import transaction
from django.db.models import ProtectedError

from shop.staff import audit


class NotAllowed(Exception):
    """The message is a sentence for people."""


def delete_customer(customer):
    """Delete a customer who was written down by mistake. Raises NotAllowed once anything belongs to them."""
    number = customer.pk
    try:
        with transaction.atomic():
            customer.delete()
            # Without the name: what is deleted must not live on in the record.
            audit.write(audit.AuditKind.DELETION, f"The record of customer no. {number} deleted.")
    except ProtectedError as error:
        raise NotAllowed(f"{customer} has instruments or orders on file, so the record stays.") from error
