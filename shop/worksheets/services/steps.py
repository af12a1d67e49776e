"""Steps: done, skipped with a reason, stale, and remarks about them."""

from django.db import transaction
from django.utils import timezone

from shop.worksheets import staleness, time_spent
from shop.worksheets.models import StepMark, StepNote
from shop.worksheets.services.common import note, open_sheet, step_of
from shop.worksheets.services.errors import Refused
from shop.worksheets.sheet import Sheet


@transaction.atomic
def mark_done(worksheet, *, step, by):
    """Mark `step` done as things stand now. Marking it again freshens a stale one."""
    return _mark(worksheet, step, "done", by=by)


@transaction.atomic
def skip_step(worksheet, *, step, reason, by):
    """Leave `step` out, with a reason. Its missing readings then no longer keep the sheet from being signed."""
    reason = reason.strip()
    if not reason:
        raise Refused("Say why this step is left out.")
    if len(reason) > 300:
        raise Refused("Say it in 300 characters or fewer.")
    return _mark(worksheet, step, "skipped", by=by, reason=reason)


def _mark(worksheet, step_key, state, *, by, reason=""):
    held = open_sheet(worksheet)
    step = step_of(held, step_key)
    if state == "skipped" and not step.can_skip:
        raise Refused("This step cannot be left out: without it nobody knows how the instrument left.")
    mark, _ = StepMark.objects.update_or_create(
        worksheet=held,
        step=step.key,
        defaults={
            "state": state, "reason": reason, "stale_because": "", "at": timezone.now(), "by": by,
            "rested_on": staleness.rests_now(Sheet.load_readings(held), step),
        },
    )  # fmt: skip
    took = time_spent.said(time_spent.of_sheet(held).get(step.key, 0.0))
    done = f"{step.title}: done, {took}." if took else f"{step.title}: done."
    said = f"{step.title}: left out. {reason}" if state == "skipped" else done
    note(held, by=by, what=f"step_{state}", text=said, step=step.key)
    return mark


@transaction.atomic
def take_back_mark(worksheet, *, step, by):
    """The step is neither done nor skipped any more."""
    held = open_sheet(worksheet)
    step = step_of(held, step)
    gone, _ = held.marks.filter(step=step.key).delete()
    if gone:
        note(held, by=by, what="step_open", text=f"{step.title}: open again.", step=step.key)


@transaction.atomic
def add_step_note(worksheet, *, step, text, by):
    """Add a remark to a step. Remarks stay possible after sign-off: they change no reading."""
    text = text.strip()
    if not text:
        raise Refused("Write the remark first.")
    if len(text) > 2000:
        raise Refused("A remark has at most 2000 characters.")
    step_key = step_of(worksheet, step).key
    return StepNote.objects.create(worksheet=worksheet, step=step_key, text=text, at=timezone.now(), by=by)
