"""What is done to customers."""

from django.db import transaction

from shop.people.models import Customer


@transaction.atomic
def add_customer(*, by, **fields):
    """A new customer."""
    return Customer.objects.create(created_by=by, **fields)


@transaction.atomic
def change_customer(customer, *, changed):
    """Write only the fields that were changed, so that two people's edits of different fields both stand."""
    if changed:
        customer.save(update_fields=changed)
    return customer
