"""Fetching what is to be merged, and the records of merging."""

from django.shortcuts import get_object_or_404

from shop.figures.merging.kinds import CUSTOMERS
from shop.instruments.access import instrument
from shop.people.access import customer


def record_of(kind, pk):
    """The customer or instrument, or 404; Moved where it was merged."""
    return customer(pk) if kind is CUSTOMERS else instrument(pk)


def merge_record(kind, pk):
    return get_object_or_404(kind.record.objects.select_related("kept"), pk=pk)
