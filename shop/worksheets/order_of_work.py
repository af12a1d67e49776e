"""What comes first: a move is premature while a reading that it rests on is out of range itself.

It is said once a step, with the first thing to turn there.
"""

from dataclasses import replace

from shop.worksheets.findings import OUT_OF_RANGE
from shop.worksheets.wording.said import listed
from shop.worksheets.wording.tail import SEE_WINDOW

SAID = {"relief": "relief", "nut_gap": "the nut", "height_12": "string height"}


def in_order(family, findings):
    """The findings; to each move is added what has to be set right before it."""
    out = {one.check for one in findings if one.verdict == OUT_OF_RANGE} & SAID.keys()
    if not out:
        return findings
    first = {step.key: [SAID[key] for key in step.rests_on if key in out] for step in family.steps}
    return [_told(one, first.pop(one.step)) if _is_to_turn(one) and first.get(one.step) else one for one in findings]


def _is_to_turn(finding):
    """The stud window's own words point at what would open it, and the strings' at the window."""
    return finding.move and finding.move != SEE_WINDOW and finding.check != "stud_window"


def _told(finding, first):
    verb = "they are" if len(first) > 1 else "it is"
    return replace(finding, move=f"{finding.move} But first {listed(first)}: {verb} out of range, and this follows.")
