"""Who may: the decorator that every view wears, and the fetching of staff."""

from functools import wraps

from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import get_object_or_404

from shop.staff import exports
from shop.staff.branching import several
from shop.staff.models import Branch, Person

EXPORTS = {"export"}  # whatever leaves the workshop in bulk is written down


def need(person, capability):
    """Raise PermissionDenied unless `person` has `capability`."""
    if not person.may(capability):
        raise PermissionDenied(f"This needs the right to {capability}.")


def may(capability, *, gives_out=True):
    """Only for signed-in people whose role has `capability`; others get 403. Signing in is asked for earlier.

    Exports are written down, but for a page that gives nothing out: one that tells how far reading in is would have to
    wait until the reading lets it write.
    """

    def wear(view):
        @wraps(view)
        def guarded(request, *args, **kwargs):
            need(request.user, capability)
            answer = view(request, *args, **kwargs)
            if capability in EXPORTS and gives_out and answer.status_code == 200:
                exports.note(request)  # before anything of it is sent
            return answer

        guarded.capability = capability
        return guarded

    return wear


def person(pk):
    """A member of staff, or 404."""
    return get_object_or_404(Person, pk=pk)


def branch(pk):
    """A branch, or 404; also where there is only one, of which nobody hears."""
    rows = Branch.objects.all() if several() else Branch.objects.none()
    return get_object_or_404(rows, pk=pk)


def device(whose, mark):
    """One of somebody's own devices by its mark, or 404: the key of a session never leaves the server."""
    for one in whose.devices.all():
        if one.mark == mark:
            return one
    raise Http404("There is no such device.")


def kept_view(whose, pk):
    """One of somebody's own views of a list, or 404."""
    return get_object_or_404(whose.kept_views, pk=pk)
