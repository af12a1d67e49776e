"""Fetching orders and what hangs on them: what belongs to a branch that the person does not see is not there."""

from django.db.models import Q
from django.shortcuts import get_object_or_404

from shop.instruments.access import instrument_of_today as instrument
from shop.orders.models import ConditionMark, Line, Photo, WorkOrder
from shop.people.access import customer_of_today as customer
from shop.staff.branching import reach, within

__all__ = ["customer", "draft_photo", "draft_photo_sent_as", "instrument", "line", "mark", "order", "photo", "visit"]

OF_ORDER = "order__branch"
HANGS_ON_IT = ("marks", "photos", "quotes", "answers")


def order(person, number):
    """The order with its customer and instrument, or 404."""
    rows = WorkOrder.objects.for_person(person).with_parties().with_word_of(*HANGS_ON_IT).select_related("booked_by")
    return get_object_or_404(rows, number=number)


def visit(person, number):
    """All orders of the visit in which that order came, as they were booked in; or 404."""
    return list(WorkOrder.objects.for_person(person).with_parties().of_visit(order(person, number)))


def line(person, number, pk):
    """A line of that order, or 404."""
    rows = Line.objects.select_related("order__instrument", "order__customer")
    return get_object_or_404(within(rows, person, OF_ORDER), pk=pk, order__number=number)


def mark(person, number, pk):
    rows = ConditionMark.objects.select_related("order", "photo")
    return get_object_or_404(within(rows, person, OF_ORDER), pk=pk, order__number=number)


def photo(person, pk):
    """A photograph, of an order or of a draft, or 404."""
    return get_object_or_404(_photos(person), pk=pk)


def draft_photo(person, pk):
    """A photograph that belongs to a draft still, or 404."""
    return get_object_or_404(_photos(person), pk=pk, order=None)


def draft_photo_sent_as(person, key):
    """A draft's photograph by the key under which it was sent, or 404."""
    return get_object_or_404(_photos(person), upload_key=key, order=None)


def _photos(person):
    """A draft belongs to no branch yet: its photographs are seen by whoever works with the one who took them."""
    rows, keys = Photo.objects.select_related("order"), reach(person)
    if keys is None:
        return rows
    of_draft = Q(order=None) & (Q(by=person) | Q(by__branches__in=keys))
    return rows.filter(Q(order__branch__in=keys) | of_draft).distinct()
