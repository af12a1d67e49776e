"""Fetching a worksheet and the right to see or work on it, in one place: 404 unknown, 403 forbidden."""

from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import get_object_or_404

from shop.instruments.access import instrument
from shop.instruments.kinds import Kind
from shop.orders.models import Photo, WorkOrder
from shop.people.access import customer
from shop.staff.branching import within
from shop.worksheets.models import Recheck, TargetProfile, Worksheet

PARTIES = ("order__customer", "order__instrument", "started_by", "signed_by")


def worksheet_for(person, pk, capability="see worksheets", *, sheets=None):
    """The worksheet with its order, customer and instrument, or what `sheets` load, if `person` has `capability`."""
    if not person.may(capability):
        raise PermissionDenied(f"This needs the right to {capability}.")
    rows = Worksheet.objects.select_related(*PARTIES) if sheets is None else sheets
    return get_object_or_404(within(rows, person, "order__branch"), pk=pk)


def worksheet_to_see(person, pk):
    return worksheet_for(person, pk, "see worksheets")


def worksheet_to_work(person, pk):
    return worksheet_for(person, pk, "work worksheets")


def worksheet_to_type_into(person, pk):
    """The same where one reading comes in, which asks for no more than the bridge family."""
    return worksheet_for(person, pk, "work worksheets", sheets=Worksheet.objects.only("family"))


def worksheet_to_sign(person, pk):
    return worksheet_for(person, pk, "sign worksheets")


def photo_of(worksheet, pk):
    """A photograph of the worksheet's order, or 404."""
    return get_object_or_404(Photo.objects.select_related("order"), pk=pk, order=worksheet.order_id)


def order_to_work(person, pk):
    """The order that a worksheet is to be started on."""
    if not person.may("work worksheets"):
        raise PermissionDenied("This needs the right to work worksheets.")
    return get_object_or_404(WorkOrder.objects.for_person(person).with_parties(), pk=pk)


def instrument_liked(pk):
    """The instrument whose player's liking is written down, or 404."""
    return instrument(pk)


def customer_liking(pk, kind):
    """The customer, or 404; also for a kind of instrument that there is not."""
    if kind not in Kind.values:
        raise Http404("There is no such kind of instrument.")
    return customer(pk)


def recheck_to_run(person, pk):
    if not person.may("edit profiles"):
        raise PermissionDenied("This needs the right to edit profiles.")
    return get_object_or_404(Recheck, pk=pk)


def profile_to_edit(person, pk):
    if not person.may("edit profiles"):
        raise PermissionDenied("This needs the right to edit profiles.")
    return get_object_or_404(TargetProfile.objects.prefetch_related("ranges"), pk=pk)
