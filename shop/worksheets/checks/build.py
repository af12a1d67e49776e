"""Findings from claims: the part that every numeric check shares."""

from shop.worksheets.findings import STATED, Finding
from shop.worksheets.judging import judge_all
from shop.worksheets.wording.headlines import headline


def findings(bench, check, claims, *, subject, unit, why="", move=None, assumed=()):
    """One finding a claim.

    `claims` maps a string number, or None, to a Claim. `subject` and `move` take the string number; `move` also takes
    the judgement and answers what to turn, '' for nothing. `why` is said only of what is not in range.
    """
    judged = dict(zip(claims, judge_all(list(claims.values())), strict=True))
    return [
        _finding(bench, check, string, one, subject(string), unit, why, move, assumed)
        for string, one in judged.items()
    ]


def _finding(bench, check, string, judged, subject, unit, why, move, assumed):
    return Finding(
        key=check if string is None else f"{check}:{string}", step=bench.step_of(check), string=string, check=check,
        verdict=judged.verdict or STATED, value=judged.value, uncertainty=judged.spread, low=judged.low,
        high=judged.high, unit=unit, headline=headline(bench.said, subject, judged, unit, gauge=judged.gauge),
        why="" if judged.is_fine else why,
        move="" if judged.is_fine or move is None else move(string, judged),
        settle=judged.settle, assumed=assumed,
    )  # fmt: skip


def cannot(bench, check, part, *, subject):
    """The one finding that says why a check cannot be made; its verdict keeps nothing from being signed."""
    return Finding(
        key=check, step=bench.step_of(check), string=None, check=check, verdict="cannot",
        headline=f"{subject} cannot be worked out. {bench.why_not[part]}",
    )  # fmt: skip
