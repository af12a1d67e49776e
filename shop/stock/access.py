"""Fetching from the price list and the shelf."""

from django.shortcuts import get_object_or_404

from shop.stock.models import ON_SHELF, PriceItem, Supplier


def price(pk):
    """The item of the price list, or 404."""
    return get_object_or_404(PriceItem, pk=pk)


def part(pk):
    """A part or string set, or 404."""
    return get_object_or_404(PriceItem.objects.select_related("supplier"), pk=pk, kind__in=ON_SHELF)


def supplier(pk):
    return get_object_or_404(Supplier, pk=pk)
