"""The row of steps: what is open, done, skipped or to be looked at again."""

import re
from dataclasses import dataclass

from shop.worksheets import findings as f

WORDS = {"open": "open", "done": "done", "skipped": "left out", "stale": "look again"}
MARKS = {"open": "", "done": "✓", "skipped": "–", "stale": "!"}


@dataclass(frozen=True)
class RailStep:
    number: int
    key: str
    title: str
    state: str  # open, done, skipped, stale
    because: str  # why it is stale, or why it was left out
    amiss: int  # open findings that are not mere gaps
    is_here: bool

    @property
    def name(self):
        """The title as far as its first pause: what fits beside a number."""
        return re.split("[:,]", self.title)[0]

    @property
    def word(self):
        return WORDS[self.state]

    @property
    def mark(self):
        return MARKS[self.state]


def rail(evaluation, here=""):
    sheet = evaluation.sheet
    return [
        _step(number, step, sheet.marks.get(step.key), evaluation, here)
        for number, step in enumerate(sheet.family.steps if sheet.family else (), start=1)
    ]


def _step(number, step, mark, evaluation, here):
    amiss = sum(
        1 for one in evaluation.findings if one.step == step.key and one.is_open and one.verdict != f.MISSING
    )
    because = "" if mark is None else mark.stale_because or mark.reason
    return RailStep(number, step.key, step.title, state_of(mark), because, amiss, step.key == here)


def state_of(mark):
    if mark is None:
        return "open"
    return "stale" if mark.stale_because else mark.state


def current_step(evaluation):
    """The step to go on with: the first that is open or must be looked at again, otherwise the last."""
    steps = rail(evaluation)
    waiting = [one for one in steps if one.state in ("open", "stale")]
    return (waiting or steps[-1:] or [None])[0]


def next_open(evaluation, after):
    """The step to go on with once `after` is decided: the next open one, or the first before it; None when all are."""
    steps = rail(evaluation, after)
    here = next((one.number for one in steps if one.is_here), 0)
    waiting = [one for one in steps if one.state in ("open", "stale") and not one.is_here]
    return next((one for one in waiting if one.number > here), None) or next(iter(waiting), None)
