"""Fetching from the price list."""

from django.shortcuts import get_object_or_404

from shop.stock.models import PriceItem


def price(pk):
    """The item of the price list, or 404."""
    return get_object_or_404(PriceItem, pk=pk)
