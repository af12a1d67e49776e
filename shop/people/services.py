"""What is done to a customer's record."""

from django.db.models import ProtectedError


class NotAllowed(Exception):
    """The message is a sentence for people."""


def delete_customer(customer):
    """Delete a customer who was written down by mistake. Raises NotAllowed once anything belongs to them."""
    try:
        customer.delete()
    except ProtectedError as error:
        raise NotAllowed(f"{customer} has instruments or orders on file, so the record stays.") from error
