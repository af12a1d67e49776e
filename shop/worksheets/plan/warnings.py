"""What cannot work, told before any string comes off."""

from dataclasses import dataclass

import numpy as np

from shop.worksheets.checks.studs import stud_window
from shop.worksheets.families.parts import STUDS
from shop.worksheets.findings import OUT_OF_RANGE
from shop.worksheets.model.lacking import believed
from shop.worksheets.plan.moves import Warned
from shop.worksheets.plan.neck import LEAST_CUT
from shop.worksheets.wording import plan as said


@dataclass(frozen=True)
class Work:
    """Work that can be offered: what the line says, and words by which the shop's own price list may know it."""

    text: str
    known_by: tuple
    kind: str = "work"


WORK = {
    "nut": Work("Nut: fill and cut low slots, or a new nut", ("nut",)),
    "rod": Work("Truss rod and neck: look at, free or mend", ("truss", "rod")),
    "saddle": Work("Saddle or bridge part that gives the reach", ("saddle",), "part"),
    "slot": Work("Saddle with higher slots", ("saddle",), "part"),
    "angle": Work("Neck angle: shim or reset", ("shim", "reset", "neck angle")),
    "window": Work("Bridge and tailpiece: make them suit each other", ("tailpiece", "shim", "reset")),
}


def of_rod(bench):
    """The rod as the sheet stands: stuck, at its end, or asked for more bow than it may have."""
    judged = bench.judged("relief").get(None)
    if judged is None or judged.is_fine or judged.goal is None:
        return []
    wanted, reach = judged.goal - judged.value, believed(bench.sheet, "rod_reach_mm")
    if bench.sheet.value("rod_turns") == 0.0:
        return [Warned("rod", said.relief_stuck(bench.said, wanted), said.ROD_STUCK, "rod")]
    if reach is not None and abs(wanted) > reach:
        why = said.NO_ROD if reach == 0 else said.LOOSE_ROD if wanted > 0 else said.ROD_STUCK
        return [Warned("rod", said.relief_far(bench.said, wanted, reach), why, "rod")]
    if wanted > 0 and judged.value < 0:
        return [Warned("rod", said.relief_up(bench.said, wanted), said.LOOSE_ROD, "rod")]
    return []


def of_nut(bench):
    low = [
        number for number, one in bench.judged("nut_gap").items()
        if one.verdict == OUT_OF_RANGE and one.past < 0
    ]  # fmt: skip
    return [Warned("nut", said.slots_too_low(low), said.SLOT_WHY, "nut")] if low else []


def of_arch(bench):
    part = bench.part("arch") if bench.has_check("arch") and bench.part("heights") else None
    if part is None or bench.sheet.family.own_heights or (np.nan_to_num(part.fit.cut_mm) >= LEAST_CUT).any():
        return []
    low = [n for n, one in bench.judged("arch").items() if one.verdict == OUT_OF_RANGE and one.past < 0]
    return [Warned("arch", said.crests_too_low(low), said.ARCH_WHY, "slot")] if low else []


def of_window(bench):
    if bench.sheet.family.tail != STUDS or not bench.has_check("stud_window"):
        return []
    window = bench.part("window")
    if window is None or not bool(window.found.empty):
        return []
    (found,) = stud_window(bench)
    return [Warned("window", found.headline, f"{found.why} {found.move}", "window")]


def of_saddles(bench):
    saddles = bench.part("saddles")
    if saddles is None or not bench.has_check("saddle_travel"):
        return []
    short = [
        (number, float(saddles.reach.short_mm[i])) for i, number in enumerate(bench.sheet.numbers)
        if saddles.move[i] and np.isfinite(saddles.reach.left_mm[i]) and saddles.reach.short_mm[i] > 0
    ]  # fmt: skip
    return [Warned("saddles", said.short(bench.said, short), said.REACH_WHY, "saddle")] if short else []


def of_angle(bench):
    """Where nothing can be turned: what the angle will be once everything else is right."""
    family = bench.sheet.family
    if not family.tail or family.tail == STUDS:
        return []
    out = [(n, one) for n, one in bench.judged("break_angle").items() if n and one.verdict == OUT_OF_RANGE]
    if not out:
        return []
    low = any(one.past < 0 for _, one in out)
    why = f"{said.ANGLE_WHY} {family.steeper if low else family.shallower}"
    return [Warned("angle", said.angle_stays(bench.said, [(n, one.value) for n, one in out]), why, "angle")]
