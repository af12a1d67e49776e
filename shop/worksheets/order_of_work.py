"""What comes first: a move is premature while a reading that it rests on is out of range itself."""

from dataclasses import replace

from shop.worksheets.findings import OUT_OF_RANGE
from shop.worksheets.wording.said import listed

SAID = {"relief": "relief", "nut_gap": "the nut", "height_12": "string height"}


def in_order(family, findings):
    """The findings; to each move is added what has to be set right before it."""
    out = {one.check for one in findings if one.verdict == OUT_OF_RANGE} & SAID.keys()
    if not out:
        return findings
    first = {step.key: [SAID[key] for key in step.rests_on if key in out] for step in family.steps}
    return [_told(one, first.get(one.step)) for one in findings]


def _told(finding, first):
    if not first or not finding.move:
        return finding
    verb = "they are" if len(first) > 1 else "it is"
    return replace(finding, move=f"{finding.move} But first {listed(first)}: {verb} out of range, and this follows.")
