"""The plan of a worksheet: move after move, each on what the ones before it leave."""

import numpy as np

from geometry.errors import GeometryError
from shop.worksheets.checks.bench import Bench
from shop.worksheets.model.fretted import octave_now
from shop.worksheets.model.lacking import Lacking
from shop.worksheets.plan import neck, tail, warnings
from shop.worksheets.plan.expected import after
from shop.worksheets.plan.moves import Move, Plan
from shop.worksheets.wording import plan as words
from shop.worksheets.wording.said import Said

# What is moved, in the order of the bench; the check whose step it is; how it is found; what is said beside it.
ROUNDS = (
    ("rod", "relief", neck.rod, ""),
    ("nut", "nut_gap", neck.nut, ""),
    ("height", "height_12", neck.height, words.COUNTED),
    ("arch", "arch", neck.arch, ""),
    ("tail", "stud_window", tail.studs, words.AHEAD),
    ("along", "octave", tail.along, words.PREDICTED),
    ("tail_again", "stud_window", tail.studs, words.AGAIN),
)
LEAST_SHIFT = 0.05  # cents; less than any tuner shows


def plan_of(sheet, *, unit="mm"):
    """Every move that brings the readings into their ranges, as far as they go. Asks the database nothing."""
    said, moves, warned, now = Said(unit), [], [], sheet
    bench = Bench(now, said)
    warned += warnings.of_rod(bench)
    for what, check, find, note in ROUNDS:
        warned += _before(what, bench)
        found = _found(find, bench)
        if found is None:
            continue
        texts, changed = found
        now = changed if what in ("tail", "along", "tail_again") else _octaves_follow(bench, changed, said)
        step = sheet.family.home_of_checks.get(check, "")
        moves.append(Move(what, step, tuple(texts), now, note if moves or what == "tail" else ""))
        bench = Bench(now, said)
    return Plan(sheet, tuple(moves), (*warned, *warnings.of_angle(bench)), now)


def _before(what, bench):
    """What is to be said of a round before it is made."""
    looks = {
        "nut": warnings.of_nut, "arch": warnings.of_arch, "tail": lambda one: warnings.of_window(tail.ahead(one)),
        "along": warnings.of_saddles,
    }  # fmt: skip
    return _found(looks[what], bench) or [] if what in looks else []


def _found(find, bench):
    """What `find` answers; figures that geometry refuses are no move, and the findings already say so."""
    try:
        return find(bench)
    except (GeometryError, ArithmeticError, Lacking):
        return None


def _octaves_follow(bench, changed, said):
    """Other heights stretch a fretted string otherwise: the octaves go along, as far as the strings are known."""
    shift = _found(lambda one: _shift(one, Bench(changed, said)), bench)
    if shift is None:
        return changed
    shifts = {
        ("octave", number): float(shift[i]) for i, number in enumerate(changed.numbers)
        if np.isfinite(shift[i]) and abs(shift[i]) >= LEAST_SHIFT
    }  # fmt: skip
    return after(changed, {}, shifts=shifts) if shifts else changed


def _shift(before, now):
    parts = [[one.part(name) for name in ("layout", "heights", "load")] for one in (before, now)]
    if any(part is None for one in parts for part in one):
        return None
    was, will = (octave_now(one.sheet, *its) for one, its in zip((before, now), parts, strict=True))
    return will - was
