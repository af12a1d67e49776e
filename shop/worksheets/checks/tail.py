"""The tailpiece: break angle and edge clearance of every string, the stud window, and the studs' difference."""

from dataclasses import replace

import numpy as np

from shop.worksheets.checks.build import cannot, findings
from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE, Finding
from shop.worksheets.judging import Claim, source_of
from shop.worksheets.model.tail import OUTER, SPEC, STUDS
from shop.worksheets.model.window import what_opens
from shop.worksheets.wording import moves
from shop.worksheets.wording import tail as words

EDGE_SPEC = ("edge_behind_crest_mm", "edge_below_crest_mm")


def break_angle(bench):
    """One finding a string, degrees."""
    if not bench.has_check("break_angle"):
        return []
    tail = bench.part("tail")
    if tail is None:
        return [cannot(bench, "break_angle", "tail", subject="Break angle")]
    low_high = bench.sheet.target("break_angle")
    slope = np.degrees(np.cos(tail.path.rear_fall_rad) ** 2 / tail.run)
    claims = {
        number: Claim(float(np.degrees(tail.path.break_rad[i])), *low_high, _sources(bench, tail, i, slope[i]))
        for i, number in enumerate(bench.sheet.numbers)
        if np.isfinite(tail.path.break_rad[i])
    }
    return findings(
        bench, "break_angle", claims, subject=lambda number: f"Break angle over the crest of string {number}",
        unit="deg", why=words.BREAK_WHY, move=_stud_move(bench), assumed=_assumed(bench),
    )  # fmt: skip


def edge_clearance(bench):
    """One finding a string; where the string lies on the edge it says both bends."""
    if not bench.has_check("edge_clearance"):
        return []
    tail = bench.part("tail")
    if tail is None:
        return [cannot(bench, "edge_clearance", "tail", subject="Clearance over the rear edge")]
    low_high, slope = bench.sheet.target("edge_clearance"), tail.edge_behind / tail.run
    claims = {
        number: Claim(float(tail.path.clearance_mm[i]), *low_high, _clearance_sources(bench, tail, i, slope[i]))
        for i, number in enumerate(bench.sheet.numbers)
        if np.isfinite(tail.path.clearance_mm[i])
    }
    found = findings(
        bench, "edge_clearance", claims, subject=lambda number: f"Clearance over the rear edge of string {number}",
        unit="mm", why=words.EDGE_WHY, move=_stud_move(bench), assumed=_assumed(bench),
    )  # fmt: skip
    return [_on_edge(bench, tail, one) for one in found]


def _on_edge(bench, tail, finding):
    i = bench.sheet.numbers.index(finding.string)
    if finding.verdict != OUT_OF_RANGE or not tail.path.on_edge[i]:
        return finding
    bend, short = float(np.degrees(tail.path.edge_bend_rad[i])), float(tail.path.short_length_mm[i])
    first = float(np.degrees(tail.path.break_rad[i]))
    return replace(finding, headline=words.on_edge(bench.said, finding, first, bend, short))


def _clearance_sources(bench, tail, i, slope):
    if tail.gap_read[i]:
        return source_of(bench.sheet, "edge_gap", bench.sheet.numbers[i])
    return _sources(bench, tail, i, slope)


def _sources(bench, tail, i, slope):
    """The four readings that a string's line rests on, each by its share at that string.

    `slope` is the change of the value for each millimetre of crest, or of stud the other way.
    """
    return tuple(
        source
        for keys, shares in ((OUTER, tail.crest_share), (STUDS, tail.stud_share))
        for key, share in zip(keys, shares[i], strict=True)
        for source in source_of(bench.sheet, key, slope=float(slope * share))
    )


def _assumed(bench):
    return bench.assumed(*SPEC[bench.sheet.stringing])


def _stud_move(bench):
    """The advised move of the studs, the same for every string: they are turned once."""
    window = bench.part("window")
    if window is None:
        return None
    if window.advised is None:
        return lambda *_: words.SEE_WINDOW
    text = moves.studs(bench.said, *window.advised, moves.thread_pitch(bench.sheet.threads, "stud"))
    return lambda *_: text


def stud_window(bench):
    """One finding: inside, outside with the smallest move, or empty with what makes it so and what would open it."""
    if not bench.has_check("stud_window"):
        return []
    window, tail = bench.part("window"), bench.part("tail")
    if window is None:
        return [cannot(bench, "stud_window", "window", subject="The stud window")]
    found, numbers = window.found, bench.sheet.numbers
    known = {
        "key": "stud_window", "step": bench.step_of("stud_window"), "string": None, "check": "stud_window",
        "value": float(found.room_mm), "blocks": False, "assumed": _assumed(bench),
    }  # fmt: skip
    if bool(found.empty):
        opens = what_opens(bench.sheet, bench.part("layout"), tail, bench.part("load"), bench.part("heights"), window)
        return [Finding(verdict=OUT_OF_RANGE, headline=words.empty(bench.said, numbers, window),
                        why=words.EMPTY_WHY, move=words.opens(bench.said, opens), **known)]  # fmt: skip
    if bool(found.inside):
        return [Finding(verdict=IN_RANGE, headline=words.inside(bench.said, numbers, window), **known)]
    return [Finding(verdict=OUT_OF_RANGE, headline=words.OUTSIDE, why=words.EMPTY_WHY,
                    move=_stud_move(bench)(), **known)]  # fmt: skip


def stud_difference(bench):
    """One finding once both studs were read."""
    sheet = bench.sheet
    values = [sheet.value(key) for key in STUDS]
    if None in values or not bench.has_check("stud_difference"):
        return []
    sources = tuple(source for key in STUDS for source in source_of(sheet, key))
    claim = Claim(abs(values[1] - values[0]), *sheet.target("stud_difference"), sources)
    return findings(
        bench, "stud_difference", {None: claim}, subject=lambda _: "The difference between the studs", unit="mm",
        why=words.DIFFERENCE_WHY, move=_stud_move(bench),
    )  # fmt: skip
