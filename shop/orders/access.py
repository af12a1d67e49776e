"""Fetching orders and what hangs on them."""

from django.shortcuts import get_object_or_404

from shop.instruments.access import instrument_of_today as instrument
from shop.orders.models import ConditionMark, Line, Photo, WorkOrder
from shop.people.access import customer_of_today as customer

__all__ = ["customer", "draft_photo", "instrument", "line", "mark", "order", "photo"]


def order(number):
    """The order with its customer and instrument, or 404."""
    return get_object_or_404(WorkOrder.objects.with_parties().select_related("booked_by"), number=number)


def visit(number):
    """All orders of the visit in which that order came, as they were booked in; or 404."""
    return list(WorkOrder.objects.with_parties().of_visit(order(number)))


def line(number, pk):
    """A line of that order, or 404."""
    return get_object_or_404(Line.objects.select_related("order__instrument", "order__customer"),
                             pk=pk, order__number=number)  # fmt: skip


def mark(number, pk):
    return get_object_or_404(ConditionMark.objects.select_related("order", "photo"), pk=pk, order__number=number)


def photo(pk):
    """A photograph, of an order or of a draft, or 404."""
    return get_object_or_404(Photo.objects.select_related("order"), pk=pk)


def draft_photo(pk):
    """A photograph that belongs to a draft still, or 404."""
    return get_object_or_404(Photo, pk=pk, order=None)


def draft_photo_sent_as(key):
    """A draft's photograph by the key under which it was sent, or 404."""
    return get_object_or_404(Photo, upload_key=key, order=None)
