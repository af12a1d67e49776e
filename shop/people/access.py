"""Fetching customers."""

from django.shortcuts import get_object_or_404

from shop.people.models import Customer


def customer(pk):
    """The customer, or 404."""
    return get_object_or_404(Customer, pk=pk)
