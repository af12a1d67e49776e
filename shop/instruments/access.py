"""Fetching instruments."""

from django.http import Http404
from django.shortcuts import get_object_or_404

from shop.instruments.models import Instrument, InstrumentMerge
from shop.lib.moved import Moved
from shop.people.access import customer


def instrument(pk):
    """The instrument with its owner, or 404. Raises Moved where that record was merged into another."""
    try:
        return get_object_or_404(Instrument.objects.select_related("customer"), pk=pk)
    except Http404:
        kept = InstrumentMerge.kept_instead_of(pk)
        if kept is None:
            raise
        raise Moved("instrument", kept) from None


def instrument_of_today(pk):
    """The instrument, or the one into whose record this one was merged; or 404."""
    try:
        return instrument(pk)
    except Moved as moved:
        return instrument(moved.kept.pk)


def owner_to_be(pk):
    """The customer whom a new instrument will belong to, or 404."""
    return customer(pk)
