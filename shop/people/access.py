"""Fetching customers."""

from django.db.models import Exists, OuterRef
from django.http import Http404
from django.shortcuts import get_object_or_404

from shop.lib.moved import Moved
from shop.people.models import Customer, CustomerMerge


def customer(pk):
    """The customer, or 404. Raises Moved where that record was merged into another."""
    try:
        merges = CustomerMerge.objects.filter(kept=OuterRef("pk"), undone_at=None)
        return get_object_or_404(Customer.objects.annotate(has_merges=Exists(merges)), pk=pk)
    except Http404:
        kept = CustomerMerge.kept_instead_of(pk)
        if kept is None:
            raise
        raise Moved("customer", kept) from None


def only_one_of(asked):
    """[("customer", the one to whose rows a list is narrowed down)] by what a form took, or nothing."""
    key = asked.get("customer")
    found = Customer.objects.filter(pk=key).first() if key else None
    return [("customer", found)] if found else []


def customer_of_today(pk):
    """The customer, or the one into whose record this one was merged; or 404."""
    try:
        return customer(pk)
    except Moved as moved:
        return moved.kept
