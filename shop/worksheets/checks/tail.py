"""The strings behind their crests: break angle, and clearance over the bridge's rear edge."""

from dataclasses import replace

import numpy as np

from shop.worksheets.checks.build import cannot, findings
from shop.worksheets.families.parts import STUDS as BY_STUDS
from shop.worksheets.findings import OUT_OF_RANGE
from shop.worksheets.model.tail import spec_of
from shop.worksheets.wording import moves
from shop.worksheets.wording import tail as words
from shop.worksheets.wording.adjusters import STUDS as STUD_WORDS
from shop.worksheets.wording.adjusters import ends


def break_angle(bench):
    """One finding a string, degrees."""
    if not bench.has_check("break_angle"):
        return []
    tail = bench.part("tail")
    if tail is None:
        return [cannot(bench, "break_angle", "tail", subject="Break angle")]
    return findings(
        bench, "break_angle", subject=lambda number: f"Break angle over the crest of string {number}",
        unit="deg", why=words.BREAK_WHY, move=tail_move(bench), assumed=bench.assumed(*spec_of(bench.sheet)),
    )  # fmt: skip


def edge_clearance(bench):
    """One finding a string; where the string lies on the edge it says both bends."""
    if not bench.has_check("edge_clearance"):
        return []
    tail = bench.part("tail")
    if tail is None:
        return [cannot(bench, "edge_clearance", "tail", subject="Clearance over the rear edge")]
    found = findings(
        bench, "edge_clearance", subject=lambda number: f"Clearance over the rear edge of string {number}",
        unit="mm", why=words.EDGE_WHY, move=tail_move(bench), assumed=bench.assumed(*spec_of(bench.sheet)),
    )  # fmt: skip
    return [_on_edge(bench, tail, one) for one in found]


def _on_edge(bench, tail, finding):
    i = bench.sheet.numbers.index(finding.string)
    if finding.verdict != OUT_OF_RANGE or not tail.path.on_edge[i]:
        return finding
    bend, short = float(np.degrees(tail.path.edge_bend_rad[i])), float(tail.path.short_length_mm[i])
    first = float(np.degrees(tail.path.break_rad[i]))
    return replace(finding, headline=words.on_edge(bench.said, finding, first, bend, short))


def tail_move(bench):
    """What to turn; `move(number, judged)`, or None when it cannot be worked out."""
    return _stud_move(bench) if bench.sheet.family.tail == BY_STUDS else _nothing_to_turn(bench)


def _stud_move(bench):
    """The advised move of the studs, the same for every string: they are turned once."""
    window = bench.part("window")
    if window is None:
        return None
    if window.advised is None:
        return lambda *_: words.SEE_WINDOW
    text = ends(bench.said, STUD_WORDS, *window.advised, moves.thread_pitch(bench.sheet.threads, "stud"))
    return lambda *_: text


def _nothing_to_turn(bench):
    """A fixed tail: by how much the string's way misses, and what else gives the angle."""
    bounds, tail, family = bench.part("bounds"), bench.part("tail"), bench.sheet.family
    if bounds is None:
        return None

    def move(number, _judged):
        i = bench.sheet.numbers.index(number)
        too_high = float(tail.exit[i] - bounds.upper_mm[i])
        too_low = float(bounds.lower_mm[i] - tail.exit[i])
        if too_high > 0:
            return words.nothing_to_turn(bench.said, too_high, "lower", family.steeper)
        return words.nothing_to_turn(bench.said, too_low, "higher", family.shallower) if too_low > 0 else ""

    return move
