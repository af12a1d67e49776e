"""What a signed worksheet keeps: the findings as they stood, how it came against how it left, the drawings' numbers."""

from shop.worksheets.compare import compare

FINDING_FIELDS = (
    "key", "step", "string", "check", "verdict", "headline", "value", "uncertainty", "low", "high", "unit", "why",
    "move", "settle",
)  # fmt: skip


def of(worksheet, evaluation):
    """The outcome to store: {'findings', 'rows', 'numbers', 'skipped'}, JSON-ready."""
    return {
        "findings": [_finding(one) for one in evaluation.findings],
        "rows": [row.as_json() for row in compare(worksheet)],
        "numbers": evaluation.numbers,
        "skipped": {key: mark.reason for key, mark in evaluation.sheet.marks.items() if mark.state == "skipped"},
    }


def _finding(one):
    stored = {name: getattr(one, name) for name in FINDING_FIELDS} | {"assumed": list(one.assumed)}
    if one.accepted is not None:
        stored["accepted"] = {"reason": one.accepted.reason, "by": str(one.accepted.by),
                              "at": one.accepted.at.isoformat()}  # fmt: skip
    return stored
