"""Where something belongs, and what somebody sees of it. In a workshop with one branch all is seen and none is asked.

Every room's `for_person` and `at` rest on `reach`: it is the one place that says whose branches are whose.
"""

from contextlib import contextmanager
from contextvars import ContextVar

from shop.staff.models import Branch, Workshop
from shop.staff.roles import Role

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


def whose(branch=None):
    """`branch`; without one, the only branch there is. Where there are several somebody has to say which."""
    if branch is not None:
        return branch
    if several():
        raise ValueError("There are several branches: say which one it is for.")
    return Branch.first()
