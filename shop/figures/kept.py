"""Sums that are kept by month, and made anew where something they were made from has changed.

The database notes what is changed (`watching`). Whoever asks next takes these notes away and forgets the sums of their
months; what is missing is added up. Both are done in transactions of which one runs at a time, so a change that is
committed meanwhile leaves its note behind for whoever asks after that.
"""

import math
import time
from datetime import date

from django.db import connection, transaction
from django.utils import timezone

from shop.figures import notes
from shop.figures.models import KeptSum, Question, Touched
from shop.figures.sums import ASK, Span
from shop.staff.models import Branch

MANY = 20_000  # notes, as after a large import: to add everything up anew is sooner done than to look at each
LOCK = 4_107_203  # any number: by it the server knows what runs one at a time


def sums_of(months, branch=None):
    """{question: its rows of all `months`, each with its `month`}, of one branch by its key. What is missing is added
    up first."""
    catch_up(months, branch)
    found = {question: [] for question in Question}
    for question, month, rows in _kept(months, branch).order_by("month").values_list("question", "month", "rows"):
        found[question] += [row | {"month": month} for row in rows]
    return found


def catch_up(months, branch=None, *, within_s=math.inf):
    """Add up what is missing of `months`, the newest first, for so long. Returns how many months are left to do."""
    began = time.monotonic()
    if Touched.objects.exists():
        _forget_what_changed()
    missing = _missing(months, branch)
    while missing and time.monotonic() - began < within_s:
        _add_up(*missing.pop(), branch)
    return len(missing)


def catch_up_everywhere(months, *, within_s):
    """The same for the workshop as a whole and for each of its branches, as far as the time goes."""
    ends = time.monotonic() + within_s
    branches = list(Branch.objects.values_list("pk", flat=True))
    scopes = [None, *(branches if len(branches) > 1 else [])]
    return sum(catch_up(months, branch, within_s=ends - time.monotonic()) for branch in scopes)


def _kept(months, branch):
    of_branch, zone = branch or 0, timezone.get_current_timezone_name()
    return KeptSum.objects.filter(of_branch=of_branch, zone=zone, month__in=months)


def _missing(months, branch):
    """[(month, its questions)], the newest last."""
    there = set(_kept(months, branch).values_list("month", "question"))
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
    _alone()
    about = {
        "month": month, "of_branch": branch or 0, "zone": timezone.get_current_timezone_name(),
    }  # fmt: skip
    KeptSum.objects.bulk_create(
        [KeptSum(question=one, rows=ASK[one](Span(month), branch), **about) for one in questions],
        update_conflicts=True, unique_fields=["of_branch", "month", "question"], update_fields=["zone", "rows"],
    )  # fmt: skip


def _alone():
    """Wait until nobody else does this. On SQLite whoever writes is alone anyway."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [LOCK])
