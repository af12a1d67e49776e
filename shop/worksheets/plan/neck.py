"""Rod, nut, height and arch: each move on the readings that the moves before it leave, all effects counted."""

import numpy as np

from geometry.bridge import lever
from geometry.errors import GeometryError
from geometry.neck_moves import NeckMoves, changes_after, effects_of
from geometry.sheet import Record
from shop.worksheets.checks.height import height_12, off_outer, turning_of
from shop.worksheets.checks.neck import nut_gap, relief
from shop.worksheets.families.parts import ENDS
from shop.worksheets.findings import OUT_OF_RANGE
from shop.worksheets.model.lacking import believed
from shop.worksheets.model.layout import per_string
from shop.worksheets.plan.expected import after
from shop.worksheets.wording import moves as words
from shop.worksheets.wording import plan as said
from shop.worksheets.wording.adjusters import own_height

LEAST_CUT = 0.03
ANY_SPAN = 74.0  # the span plays no part where every string has a saddle of its own


def effects(bench):
    """Geometry's linear effects of rod, slots and crests on the readings; None without a neck."""
    layout, joint = bench.part("layout"), believed(bench.sheet, "body_joint_fret")
    if layout is None or joint is None:
        return None
    span = believed(bench.sheet, bench.sheet.family.height.span_key) if bench.sheet.family.height.span_key else None
    try:
        return effects_of(Record(neck=layout.neck, post_span_mm=span or ANY_SPAN), joint_fret=joint)
    except GeometryError:
        return None


def rod(bench):
    """(texts, the sheet after it), or None when the rod stays as it is."""
    judged = bench.judged("relief").get(None)
    if judged is None or judged.is_fine or judged.goal is None or effects(bench) is None:
        return None
    texts = [one.move for one in relief(bench) if one.move]
    return texts, bowed(bench, judged.goal - judged.value)


def bowed(bench, change):
    """The sheet once relief has changed by `change`, mm: gaps, heights and the neck's tilt go along.

    None where the neck is not known.
    """
    works, relief_now = effects(bench), bench.sheet.value("relief")
    if works is None or relief_now is None:
        return None
    none = np.zeros(len(bench.sheet.strings))
    changes = changes_after(works, NeckMoves(np.array(change), none, np.array(0.0), np.array(0.0)), upto="rod")
    tilt = bench.sheet.spec_value("neck_tilt_deg")
    spec = {} if tilt is None else {"neck_tilt_deg": tilt - float(np.degrees(np.mean(changes.tilt_rad)))}
    values = {("relief", None): relief_now + change} | _neck_values(bench.sheet, changes)
    return after(bench.sheet, values, spec=spec)


def _neck_values(sheet, changes):
    found = _added(sheet, "nut_gap", changes.nut_gap_mm)
    return found | _added(sheet, "height_12", changes.height_12_mm)


def _added(sheet, key, change):
    now = per_string(sheet, key)
    return {
        (key, number): float(now[i] + change[i])
        for i, number in enumerate(sheet.numbers)
        if np.isfinite(now[i] + change[i]) and abs(change[i]) > 1e-9
    }


def nut(bench):
    """Slots that are too high are cut; one that is too low cannot be raised and is warned of elsewhere."""
    judged, works = bench.judged("nut_gap"), effects(bench)
    if works is None:
        return None
    slots = np.zeros(len(bench.sheet.strings))
    for i, number in enumerate(bench.sheet.numbers):
        one = judged.get(number)
        if one and not one.is_fine and one.goal is not None and one.goal < one.value:
            slots[i] = (one.goal - one.value) / works.gap_per_nut[i]
    if not slots.any():
        return None
    changes = changes_after(works, NeckMoves(np.array(0.0), slots, np.array(0.0), np.array(0.0)), upto="nut")
    cut = {number for i, number in enumerate(bench.sheet.numbers) if slots[i]}
    texts = said.by_string((one.string, one.move) for one in nut_gap(bench) if one.string in cut)
    return texts, after(bench.sheet, _neck_values(bench.sheet, changes))


def height(bench):
    """Both ends at once, or every saddle by itself."""
    return _ends(bench) if bench.sheet.family.height.form == ENDS else _own(bench)


def _ends(bench):
    heights, out = bench.part("heights"), bench.not_fine("height_12")
    if heights is None or not out.any():
        return None
    posts = bench.part("posts")
    turning = turning_of(bench, posts.bass, posts.treble) if posts else ""
    return ([turning], crests_moved(bench, (posts.bass, posts.treble))) if turning else None


def crests_moved(bench, ends, cut=0.0):
    """The sheet once both ends have moved and slots were cut by `cut` (mm, down)."""
    share = lever(bench.part("layout").lateral, span_mm=believed(bench.sheet, bench.sheet.family.height.span_key))
    return _crests(bench, share @ np.array(ends) - cut)


def _crests(bench, crest):
    """The sheet with every crest higher by `crest`: heights by half of it, the outer crests as they were read."""
    sheet, way = bench.sheet, 0.5  # fret 12 is half-way from nut to bridge
    values = _added(sheet, "height_12", way * crest)
    for key, change in zip(("crest_height_bass", "crest_height_treble"), (crest[0], crest[-1]), strict=True):
        if sheet.value(key) is not None:
            values[(key, None)] = sheet.value(key) + float(change)
    return after(sheet, values)


def _own(bench):
    found = [one for one in height_12(bench) if one.move]
    if not found:
        return None
    judged = bench.judged("height_12")
    crest = np.array([
        2.0 * (judged[number].goal - judged[number].value) if number in {one.string for one in found} else 0.0
        for number in bench.sheet.numbers
    ])  # fmt: skip
    return [one.move for one in found], _crests(bench, crest)


def arch(bench):
    """What makes every crest follow the board, once one is out of range for certain: its own screws, or least cuts."""
    part = bench.part("arch") if bench.has_check("arch") and bench.part("heights") else None
    if part is None or all(one.verdict != OUT_OF_RANGE for one in bench.judged("arch").values()):
        return None
    return _single_saddles(bench, part) if bench.sheet.family.own_heights else _cuts(bench, part)


def _single_saddles(bench, part):
    """Saddles with height screws go either way, each by what its crest is off."""
    off = np.nan_to_num(off_outer(part))
    off = np.where(np.abs(off) >= LEAST_CUT, off, 0.0)
    pairs = zip(bench.sheet.numbers, off, strict=True)
    texts = [own_height(bench.said, number, -float(mm), None) for number, mm in pairs if mm]
    return (texts, _crests(bench, -off)) if texts else None


def _cuts(bench, part):
    cut = np.where(np.isfinite(part.fit.cut_mm) & (part.fit.cut_mm >= LEAST_CUT), part.fit.cut_mm, 0.0)
    if not cut.any():
        return None
    ends = (float(part.fit.cut_bass_mm), float(part.fit.cut_treble_mm))
    cuts = words.cuts(bench.said, [(n, float(c)) for n, c in zip(bench.sheet.numbers, cut, strict=True) if c])
    turning = turning_of(bench, *ends)
    return [said.cut_slots(cuts), *([turning] if turning else [])], crests_moved(bench, ends, cut)
