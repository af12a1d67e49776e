"""Findings from judgements: the part that every numeric check shares."""

from shop.worksheets.findings import CANNOT, STATED, Finding
from shop.worksheets.wording.headlines import headline


def findings(bench, check, *, subject, unit, why="", move=None, assumed=()):
    """One finding for each value of `check` that was judged; none where the family does not have it.

    `subject` and `move` take the string number, None for the whole sheet; `move` also takes the judgement and answers
    what to turn, '' for nothing. `why`, a text or a function of the judgement, is said only of what is not in range.
    """
    return [
        _finding(bench, check, string, one, subject(string), unit, why, move, assumed)
        for string, one in bench.judged(check).items()
    ]


def _finding(bench, check, string, judged, subject, unit, why, move, assumed):
    fine = judged.is_fine
    return Finding(
        key=check if string is None else f"{check}:{string}", step=bench.step_of(check), string=string, check=check,
        verdict=judged.verdict or STATED, value=judged.value, uncertainty=judged.spread, low=judged.low,
        high=judged.high, unit=unit, headline=headline(bench.said, subject, judged, unit, gauge=judged.gauge),
        why="" if fine else why(judged) if callable(why) else why,
        move="" if fine or move is None else move(string, judged),
        settle=judged.settle, assumed=assumed,
    )  # fmt: skip


def cannot(bench, check, part, *, subject):
    """The one finding that says why a check cannot be made; its verdict keeps nothing from being signed."""
    return Finding(
        key=check, step=bench.step_of(check), string=None, check=check, verdict=CANNOT,
        headline=f"{subject} cannot be worked out. {bench.why_not[part]}",
    )  # fmt: skip
