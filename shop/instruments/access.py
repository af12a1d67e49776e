"""Fetching instruments."""

from django.shortcuts import get_object_or_404

from shop.instruments.models import Instrument


def instrument(pk):
    """The instrument with its owner, or 404."""
    return get_object_or_404(Instrument.objects.select_related("customer"), pk=pk)
