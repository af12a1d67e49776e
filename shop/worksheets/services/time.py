"""Time at the bench: what the tablets saw, and what somebody says it was."""

from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from shop.worksheets import time_spent
from shop.worksheets.models import TimeByHand, WorkSpan
from shop.worksheets.services.common import locked, note, open_sheet, step_of
from shop.worksheets.services.errors import Refused, UnknownPlace

LONGEST = timedelta(hours=12)  # of one stretch: nobody works longer without a pause
OLDEST = timedelta(days=30)  # a tablet that was away for longer is not believed
MOST_MINUTES = 100 * 60


@transaction.atomic
def record_span(worksheet, *, client_id, step, began_ago, ended_ago, by):
    """Keep or lengthen a stretch of work that a tablet saw; the same `client_id` is never counted twice.

    `began_ago` and `ended_ago` are timedeltas before now: a tablet's clock may be wrong, but not its sense of time.
    Returns the WorkSpan, or None where nothing of the stretch lies within the worksheet's own time.
    """
    held = locked(worksheet)
    step = step_of(held, step)
    if not timedelta(0) <= ended_ago <= began_ago <= OLDEST or began_ago - ended_ago > LONGEST:
        raise Refused("This cannot have been one stretch of work.")
    now = timezone.now()
    began, ended = max(now - began_ago, held.started_at), now - ended_ago
    if held.is_signed:
        ended = min(ended, held.signed_at)
    known = WorkSpan.objects.filter(client_id=client_id).first()
    if known is None and ended <= began:
        return None
    span = _lengthened(held, known, step, ended) if known else WorkSpan.objects.create(
        worksheet=held, client_id=client_id, step=step.key, began_at=began, ended_at=ended, by=by
    )  # fmt: skip
    if held.is_signed:
        held.spent_seconds = time_spent.whole_of(held)
        held.save(update_fields=["spent_seconds"])
    return span


def _lengthened(held, span, step, ended):
    if (span.worksheet_id, span.step) != (held.pk, step.key):
        raise UnknownPlace("This stretch of time belongs to another step.")
    if ended > span.ended_at:
        span.ended_at = min(ended, span.began_at + LONGEST)
        span.save(update_fields=["ended_at"])
    return span


@transaction.atomic
def set_time(worksheet, *, step, minutes, by):
    """Say how long a step has taken until now. What the tablets see from here on is added."""
    held = open_sheet(worksheet)
    step = step_of(held, step)
    if not 0 <= minutes <= MOST_MINUTES:
        raise Refused(f"Write whole minutes from 0 to {MOST_MINUTES}.")
    was = time_spent.of_sheet(held).get(step.key, 0.0)
    made = TimeByHand.objects.create(worksheet=held, step=step.key, seconds=minutes * 60, at=timezone.now(), by=by)
    before = f" (the clock said {time_spent.said(was)})" if was else ""
    note(held, by=by, what="time_set", text=f"{step.title}: {minutes} min by hand{before}.", step=step.key,
         seconds=made.seconds)  # fmt: skip
    return made
