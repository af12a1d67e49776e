"""What is out, a line for all strings that are out the same way."""

from dataclasses import dataclass

from shop.worksheets.findings import OUT_OF_RANGE, TOO_CLOSE
from shop.worksheets.shown.short import short
from shop.worksheets.shown.verdicts import VERDICTS
from shop.worksheets.wording.said import listed

LABELS = {
    "relief": "Relief", "nut_gap": "Gap at fret 1", "height_12": "Height at fret 12", "octave": "Octave",
    "arch": "Crest against the board's arch", "break_angle": "Break angle",
    "edge_clearance": "Clearance over the rear edge", "stud_difference": "Difference between the studs",
}  # fmt: skip


@dataclass(frozen=True)
class OutShown:
    verdict: object
    text: str


def out_shown(findings, said, numbers):
    """Findings that are out of range or too close to tell, and not accepted; by check, then by side."""
    groups = {}
    for one in findings:
        if one.blocks and one.verdict in (OUT_OF_RANGE, TOO_CLOSE) and one.accepted is None:
            groups.setdefault((one.check, one.verdict, _side(one)), []).append(one)
    return [OutShown(VERDICTS[verdict], _said(check, verdict, side, found, said, len(numbers)))
            for (check, verdict, side), found in groups.items()]  # fmt: skip


def _side(finding):
    if finding.value is None or finding.check not in LABELS or finding.verdict == TOO_CLOSE:
        return ""
    return "below" if finding.low is not None and finding.value < finding.low else "above"


def _said(check, verdict, side, found, said, count):
    if check not in LABELS or found[0].string is None:
        return found[0].headline
    named = f"string{'s' if len(found) > 1 else ''} {listed(one.string for one in found)}"
    strings = "every string" if len(found) == count else named
    if verdict == TOO_CLOSE:
        return f"{LABELS[check]}: {strings} too near a limit for this gauge to tell."
    apart = [one.low - one.value if side == "below" else one.value - one.high for one in found]
    unit = found[0].unit
    most = said.value(max(apart), unit).lstrip("+")
    by = f"by {short(said, min(apart), unit).lstrip('+')} to {most}" if len(apart) > 1 else f"by {most}"
    return f"{LABELS[check]}: {strings} {side} the range, {by}."
