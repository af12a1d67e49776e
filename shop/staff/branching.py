"""Where something belongs, and what somebody sees of it. In a workshop with one branch all is seen and none is asked.

Whatever is fetched for a person goes through `within`: it is the one place that says whose branches are whose.
"""

from contextlib import contextmanager
from contextvars import ContextVar

from django.core.exceptions import PermissionDenied

from shop.staff.branch_models import OWN_DETAILS
from shop.staff.models import Branch, Workshop
from shop.staff.roles import Role

NOWHERE = {"branches": [], "branch_here": None}
CHOSEN = "branch"  # in the session: where this person works now
_told = ContextVar("has_branches", default=None)


@contextmanager
def told_by(workshop):
    """Within this block whether there are branches is known, and asks no query."""
    token = _told.set(workshop.has_branches)
    try:
        yield
    finally:
        _told.reset(token)


def several():
    """Whether the workshop has more than one branch."""
    told = _told.get()
    return Workshop.here().has_branches if told is None else told


def reach(person):
    """The keys of the branches whose things `person` sees; None when that is everything."""
    if person.role == Role.OWNER or not several():
        return None
    return tuple(branch.pk for branch in person.seen_branches)


def within(rows, person, path="branch"):
    """Those of `rows` that `person` may see; `path` leads from a row to its branch."""
    keys = reach(person)
    return rows if keys is None else rows.filter(**{f"{path}__in": keys})


def choices(person):
    """The branches that are open and in which `person` may work, by name; none where there is only one."""
    return [branch for branch in person.seen_branches if branch.is_active] if several() else []


def here(request):
    """The branch in which the request's person works now; None in a workshop with one.

    403 for somebody who works in no branch that is open: nothing they do would belong anywhere.
    """
    if not several():
        return None
    found = choices(request.user)
    if not found:
        raise PermissionDenied("You work in no branch that is open. The owner puts people into branches.")
    return _chosen(request, found)


def _chosen(request, found):
    key = request.session.get(CHOSEN)
    return next((branch for branch in found if branch.pk == key), min(found, key=lambda branch: branch.pk))


def standing(request):
    """{'branches', 'branch_here'} for pages: what somebody can choose between, and where they stand."""
    found = choices(request.user)
    return {"branches": found, "branch_here": _chosen(request, found)} if len(found) > 1 else NOWHERE


def whose(branch=None):
    """`branch`; without one, the only branch there is. Where there are several somebody has to say which."""
    if branch is not None:
        return branch
    if several():
        raise ValueError("There are several branches: say which one it is for.")
    return Branch.first()


def others_open(branch):
    """The branches that something can go to from `branch`."""
    return Branch.objects.filter(is_active=True).exclude(pk=branch.pk if branch else None)


class Place:
    """The workshop as it stands at one branch: what the branch says of itself, and the rest as the workshop says."""

    def __init__(self, workshop, branch):
        self.workshop, self.branch = workshop, branch

    def __getattr__(self, name):
        own = getattr(self.branch, name) if name in OWN_DETAILS else None
        return own or getattr(self.workshop, name)


def place(request):
    """The workshop's details as they stand where the request's person works now."""
    branch = here(request)
    return request.workshop if branch is None else Place(request.workshop, branch)


def place_of(thing, workshop):
    """The workshop's details as they stand at the branch of `thing`, such as an order."""
    return place_at(thing.branch, workshop)


def place_at(branch, workshop):
    """The workshop's details as they stand at `branch`."""
    return Place(workshop, branch) if workshop.has_branches else workshop
