"""Height at fret 12 on both sides and per string, with both posts solved at once; and the arch of the crests."""

import numpy as np

from shop.worksheets.checks.build import cannot, findings
from shop.worksheets.families.parts import ENDS
from shop.worksheets.findings import OUT_OF_RANGE
from shop.worksheets.wording import height as words
from shop.worksheets.wording import moves
from shop.worksheets.wording.adjusters import HEIGHT_ENDS, ends, own_height

LEAST_CUT = 0.03
BOARD = ("board_radius_nut_mm", "board_radius_end_mm", "spread_bridge_mm")


def height_12(bench):
    """One finding for each string that was read."""
    adjuster = bench.sheet.family.height
    has_ends = adjuster.form == ENDS
    return findings(
        bench, "height_12", subject=lambda number: f"Height at fret 12 of string {number}", unit="mm",
        why=words.BOTH_ENDS if has_ends else words.ONE_BY_ONE,
        move=_end_moves(bench) if has_ends else _own_move(bench),
        assumed=bench.assumed(adjuster.span_key) if adjuster.span_key else (),
    )  # fmt: skip


def _own_move(bench):
    """Each string has a saddle of its own: about twice the change at fret 12."""
    pitch = moves.thread_pitch(bench.sheet.threads, bench.sheet.family.height.thread)

    def move(number, judged):
        return "" if judged.goal is None else own_height(bench.said, number, 2 * (judged.goal - judged.value), pitch)

    return move


def turning_of(bench, bass_mm, treble_mm):
    """How a move of both ends is said for this family."""
    adjuster = bench.sheet.family.height
    pitch = moves.thread_pitch(bench.sheet.threads, adjuster.thread)
    return ends(bench.said, HEIGHT_ENDS[adjuster.words], bass_mm, treble_mm, pitch)


def _end_moves(bench):
    """What to say for one string: both ends for an outer one, both ends or its slot for one between."""
    sheet, heights, out = bench.sheet, bench.part("heights"), bench.not_fine("height_12")
    outer = {sheet.numbers[0], sheet.numbers[-1]}
    if heights is None or not out.any():
        return None
    posts = bench.part("posts")
    turning = turning_of(bench, posts.bass, posts.treble) if posts else ""

    def move(number, judged):
        if posts is None:
            return words.by_half(bench.said, judged)
        after = float(posts.after[sheet.numbers.index(number)])
        if number in outer or (turning and _is_inside(after, judged)):
            return turning
        return words.slot_first(turning)

    return move


def _is_inside(value, judged):
    return (judged.low is None or value >= judged.low) and (judged.high is None or value <= judged.high)


def arch(bench):
    """One finding for each string that was read, once three or more were."""
    if not bench.has_check("arch") or bench.part("heights") is None:
        return []
    part = bench.part("arch")
    if part is None:
        return [cannot(bench, "arch", "arch", subject="The arch")]
    return findings(
        bench, "arch", subject=lambda number: f"The crest of string {number} against the board's arch",
        unit="mm", why=words.ARCH_WHY, move=lambda number, judged: _cut(bench, part, number, judged),
        assumed=bench.assumed(*BOARD, bench.sheet.family.height.span_key),
    )  # fmt: skip


def off_outer(part):
    """How far each crest is off where the outer two put it, up positive, mm: single saddles follow those, on posts."""
    error, lateral = part.fit.error_mm, part.lateral
    return error - np.interp(lateral, lateral[[0, -1]], error[[0, -1]])


def _cut(bench, part, number, judged):
    """What to cut, or to turn. Cutting cannot be undone: nothing is said of a crest that is too close to tell."""
    if bench.sheet.family.own_heights:
        return own_height(bench.said, number, -float(off_outer(part)[bench.sheet.numbers.index(number)]), None)
    if judged.verdict != OUT_OF_RANGE:
        return ""
    by_string = [
        (one, float(cut)) for one, cut in zip(bench.sheet.numbers, part.fit.cut_mm, strict=True)
        if np.isfinite(cut) and cut >= LEAST_CUT
    ]  # fmt: skip
    turning = turning_of(bench, float(part.fit.cut_bass_mm), float(part.fit.cut_treble_mm))
    own = dict(by_string).get(number)
    if judged.value > 0 and own:
        return words.cut_slot(bench.said, own, turning)
    return words.too_low(bench.said, abs(judged.value), moves.cuts(bench.said, by_string), turning)
