"""Who may: the decorator that every view wears, and the fetching of staff."""

from functools import wraps

from django.core.exceptions import PermissionDenied
from django.shortcuts import get_object_or_404

from shop.staff.models import Person


def need(person, capability):
    """Raise PermissionDenied unless `person` has `capability`."""
    if not person.may(capability):
        raise PermissionDenied(f"This needs the right to {capability}.")


def may(capability):
    """Only for signed-in people whose role has `capability`; others get 403. Signing in is asked for earlier."""

    def wear(view):
        @wraps(view)
        def guarded(request, *args, **kwargs):
            need(request.user, capability)
            return view(request, *args, **kwargs)

        guarded.capability = capability
        return guarded

    return wear


def person(pk):
    """A member of staff, or 404."""
    return get_object_or_404(Person, pk=pk)
