"""Sums that are kept by month, and made anew where something they were made from has changed.

The database notes what is changed (`watching`). Whoever asks next takes these notes away and forgets the sums of their
months; what is missing is added up. Both are done in transactions of which one runs at a time, so a change that is
committed meanwhile leaves its note behind for whoever asks after that.
"""

import logging
import math
import time
from datetime import date

from django.db import DatabaseError, connection, transaction
from django.utils import timezone

from shop.figures import notes
from shop.figures.models import KeptSum, Question, Touched
from shop.figures.sums import ASK, Span
from shop.staff.models import Branch

LOG = logging.getLogger(__name__)
MANY = 20_000  # notes, as after a large import: to add everything up anew is sooner done than to look at each
LOCK = 4_107_203  # any number: by it the server knows what runs one at a time


def sums_of(months, branch=None):
    """{question: its rows of all `months`, each with its `month`}, of one branch by its key. What is missing is added
    up first."""
    return sums_within(months, branch)[0]


def sums_within(months, branch=None, *, within_s=math.inf):
    """(sums as `sums_of` gives them, 0), or (None, how many months are left to do) when so much time is not enough.

    Where nothing can be written, as on a disk that is full, they are reckoned and not kept, however long that takes.
    """
    try:
        there, left = _caught_up(months, branch, within_s)
    except DatabaseError as refusal:
        LOG.warning("Figures are not kept: %s", type(refusal).__name__)
        there, left = _not_kept(months, branch), 0
    return (None, left) if left else (_by_question(there, months), 0)


def _by_question(there, months):
    return {
        question: [row | {"month": month} for month in sorted(months) for row in there[month, question]]
        for question in Question
    }


def catch_up(months, branch=None, *, within_s=math.inf):
    """Add up what is missing of `months`, the newest first, for so long. Returns how many months are left to do."""
    return _caught_up(months, branch, within_s)[1]


def _caught_up(months, branch, within_s):
    """({(month, question): rows}, how many months are left)."""
    began = time.monotonic()
    if Touched.objects.exists():
        _forget_what_changed()
    there = _there(months, branch)
    missing = _missing(months, there)
    while missing and time.monotonic() - began < within_s:
        there |= _add_up(*missing.pop(), branch)
    return there, len(missing)


def _not_kept(months, branch):
    """The same without writing: all anew where anything is touched, since nobody can take the notes away."""
    there = {} if Touched.objects.exists() else _there(months, branch)
    for month, questions in _missing(months, there):
        there |= {(month, one): ASK[one](Span(month), branch) for one in questions}
    return there


def catch_up_everywhere(months, *, within_s):
    """The same for the workshop as a whole and for each of its branches, as far as the time goes."""
    ends = time.monotonic() + within_s
    branches = list(Branch.objects.values_list("pk", flat=True))
    scopes = [None, *(branches if len(branches) > 1 else [])]
    return sum(catch_up(months, branch, within_s=ends - time.monotonic()) for branch in scopes)


def _kept(months, branch):
    of_branch, zone = branch or 0, timezone.get_current_timezone_name()
    return KeptSum.objects.filter(of_branch=of_branch, zone=zone, month__in=months)


def _there(months, branch):
    """{(month, question): rows} of what is kept."""
    kept = _kept(months, branch).values_list("month", "question", "rows")
    return {(month, Question(question)): rows for month, question, rows in kept}


def _missing(months, there):
    """[(month, its questions)], the newest last."""
    asked = ((month, [one for one in Question if (month, one) not in there]) for month in months)
    return [(month, questions) for month, questions in asked if questions]


@transaction.atomic
def _forget_what_changed():
    _alone()
    if Touched.objects.all()[MANY : MANY + 1].exists():
        KeptSum.objects.all().delete()
        Touched.objects.all().delete()
        return
    for question, months in notes.take().items():
        KeptSum.objects.filter(question=question, month__in=[date(*month, 1) for month in months]).delete()


@transaction.atomic
def _add_up(month, questions, branch):
    """Ask these questions about the month, and keep the answers. Returns {(month, question): rows}."""
    _alone()
    about = {
        "month": month, "of_branch": branch or 0, "zone": timezone.get_current_timezone_name(),
    }  # fmt: skip
    found = {(month, one): ASK[one](Span(month), branch) for one in questions}
    KeptSum.objects.bulk_create(
        [KeptSum(question=one, rows=rows, **about) for (_, one), rows in found.items()],
        update_conflicts=True, unique_fields=["of_branch", "month", "question"], update_fields=["zone", "rows"],
    )  # fmt: skip
    return found


def _alone():
    """Wait until nobody else does this. On SQLite whoever writes is alone anyway."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [LOCK])
