"""Photographs of a step: kept with the order, told apart by when they were taken."""

from functools import partial

from shop.orders import photographing
from shop.orders import services as orders
from shop.worksheets.services.common import step_of
from shop.worksheets.services.errors import Refused

BEFORE, AFTER = "before", "after"
WHEN = ((BEFORE, "before the work"), (AFTER, "after the work"))


def usual_when(worksheet, step_key):
    """The first step shows how it came, every other one what was done."""
    plan = worksheet.family_plan
    return BEFORE if plan and plan.steps[0].key == step_key else AFTER


def add_step_photos(worksheet, *, step, files, when, caption="", key=None, by):
    """Keep `files` with the step. Raises Refused, a sentence each, once all that can be kept are.

    `key` is that of a single file, which a page that lost its connection sends again and which is kept once.
    """
    step = step_of(worksheet, step)
    if not files:
        raise Refused("Take or choose a photograph first.")
    words = ": ".join(part for part in (dict(WHEN)[when].split()[0].capitalize(), caption.strip()) if part)
    keep = partial(orders.add_photo, worksheet.order, by=by, caption=words, step=step.key)
    problems = photographing.keep_all(files, keep, upload_key=key)
    if problems:
        raise Refused(" ".join(problems))


def remove_step_photo(worksheet, *, photo, by):
    """Take one photograph of the sheet's order away for good."""
    try:
        orders.remove_photo(photo, by=by)
    except orders.NotAllowed as refusal:
        raise Refused(str(refusal)) from refusal
