"""Fetching instruments."""

from django.shortcuts import get_object_or_404

from shop.instruments.models import Instrument
from shop.people.models import Customer


def instrument(pk):
    """The instrument with its owner, or 404."""
    return get_object_or_404(Instrument.objects.select_related("customer"), pk=pk)


def owner_to_be(pk):
    """The customer whom a new instrument will belong to, or 404."""
    return get_object_or_404(Customer, pk=pk)
