"""What other targets would have said of the sheets that are signed already: one pass over their kept values."""

from dataclasses import dataclass

import numpy as np

from geometry.uncertainty import COVERAGE, judge
from shop.worksheets import queries
from shop.worksheets.judging import WORDS
from shop.worksheets.models import Rule
from shop.worksheets.sheet import OUTER_TARGETS

MOST_SHEETS = 100
# What is judged against a range of the profile, by the check that a finding names.
JUDGED = ("relief", "height_12", "nut_gap", "arch", "break_angle", "edge_clearance", "stud_difference", "octave")


@dataclass(frozen=True)
class Change:
    """One value of one sheet whose verdict the new targets would turn."""

    order: str
    worksheet_id: int
    signed_at: object
    check: str
    string: int | None
    unit: str
    value: float
    before: str
    after: str


@dataclass(frozen=True)
class Foretold:
    """`counts` maps a check to ({verdict: how many} before, the same after)."""

    sheets: int
    values: int
    counts: dict
    changes: tuple


def foretell(kind, before, after, *, rule=Rule.FULL, most=MOST_SHEETS):
    """Judge the newest `most` signed sheets of `kind` by the targets `before` and by `after`. One query.

    Values and their uncertainty are those that the sheets kept at sign-off, so nothing is measured anew.
    """
    sheets = queries.kept_findings(kind, most)
    rows = [(sheet, one) for sheet in sheets for one in sheet["findings"] if _counts(one)]
    if not rows:
        return Foretold(len(sheets), 0, {}, ())
    values = np.array([one["value"] for _, one in rows], dtype=float)
    standard = np.array([one["uncertainty"] or 0.0 for _, one in rows], dtype=float) / COVERAGE
    found = []
    for targets in (before, after):
        low, high = _limits(rows, targets)
        found.append(judge(values, low=low, high=high, standard=standard, rule=rule).verdict)
    turned = np.flatnonzero(found[0] != found[1])
    changes = tuple(_change(*rows[at], found[0][at], found[1][at]) for at in turned)
    return Foretold(len(sheets), len(rows), _counted(rows, *found), changes)


def _counts(finding):
    return finding["check"] in JUDGED and finding["value"] is not None


def _limits(rows, targets):
    """Both limits of every row; NaN for an open end. Between the outer strings in proportion, as on a sheet."""
    ends = np.array([_ends(targets, sheet["strings"], one) for sheet, one in rows], dtype=float)
    return ends[:, 0], ends[:, 1]


def _ends(targets, strings, finding):
    check = finding["check"]
    if check not in OUTER_TARGETS:
        return _pair(targets.get(check))
    bass, treble = (np.array(_pair(targets.get(f"{check}_{side}"))) for side in ("bass", "treble"))
    numbers = [one["number"] for one in strings]
    if finding["string"] not in numbers or len(numbers) < 2:
        return bass
    return bass + numbers.index(finding["string"]) / (len(numbers) - 1) * (treble - bass)


def _pair(ends):
    low, high = ends or (None, None)
    return (np.nan if low is None else low, np.nan if high is None else high)


def _word(code):
    """'' stands for no verdict: without any limit there is none."""
    word = WORDS[int(code)]
    return "" if word == "cannot" else word


def _counted(rows, before, after):
    counts = {}
    for (_, one), first, last in zip(rows, before, after, strict=True):
        pair = counts.setdefault(one["check"], ({}, {}))
        for tally, code in zip(pair, (first, last), strict=True):
            tally[_word(code)] = tally.get(_word(code), 0) + 1
    return {check: counts[check] for check in JUDGED if check in counts}


def _change(sheet, one, before, after):
    return Change(sheet["order"], sheet["pk"], sheet["signed_at"], one["check"], one["string"], one["unit"],
                  one["value"], _word(before), _word(after))  # fmt: skip
