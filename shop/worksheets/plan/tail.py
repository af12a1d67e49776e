"""Tailpiece, saddle direction and octave, once the crests stand at their heights."""

import numpy as np

from geometry.intonation import cents_after_move
from shop.worksheets.checks.bench import Bench
from shop.worksheets.checks.saddle import is_shaped, octave
from shop.worksheets.checks.tail import tail_move
from shop.worksheets.families.parts import ENDS, STUDS
from shop.worksheets.model.ends import SCREWS
from shop.worksheets.model.tail import STUDS as STUD_KEYS
from shop.worksheets.plan.expected import after, after_saddles
from shop.worksheets.wording import plan as said
from shop.worksheets.wording.adjusters import TOP_ENDS
from shop.worksheets.wording.moves import LEAST_MM


def studs(bench):
    """One move of the studs, for the saddles as they will stand once their octaves are right."""
    if bench.sheet.family.tail != STUDS or not bench.has_check("stud_window"):
        return None
    then = ahead(bench)
    window = then.part("window")
    if window is None or window.advised is None or max(abs(one) for one in window.advised) < LEAST_MM:
        return None
    tail = then.part("tail")
    values = {(key, None): tail.studs[i] + window.advised[i] for i, key in enumerate(STUD_KEYS)}
    return [tail_move(then)()], after(bench.sheet, values)


def ahead(bench):
    """The bench once the crests have been moved along; the same when nothing moves."""
    found = along(bench)
    return Bench(found[1], bench.said) if found else bench


def along(bench):
    """The crests along their strings: by both ends at once, or each by its own saddle."""
    octaves = bench.part("octave")
    if octaves is None or not bench.not_fine("octave").any():
        return None
    return _by_ends(bench) if bench.sheet.family.along.form == ENDS else _by_saddles(bench, octaves)


def _by_ends(bench):
    found = bench.part("ends")
    texts = list(dict.fromkeys(one.move.split(" All strings share it")[0] for one in octave(bench) if one.move))
    if found is None or not texts or max(abs(found.bass), abs(found.treble)) < LEAST_MM:
        return None
    sheet = bench.sheet
    values = {
        (key, None): sheet.value(key) + move
        for key, move in zip(SCREWS, (found.bass, found.treble), strict=True)
        if sheet.value(key) is not None
    }
    octaves = {number: float(found.after[i]) for i, number in enumerate(sheet.numbers) if np.isfinite(found.after[i])}
    return texts[:1], after_saddles(after(sheet, values), octaves, {}, {})


def _by_saddles(bench, octaves):
    sheet, saddles = bench.sheet, bench.part("saddles")
    texts = {one.string: one.move for one in octave(bench) if one.move}
    after_them, rooms, facings = {}, {}, {}
    for i, number in enumerate(sheet.numbers):
        sure = number in texts and not octaves.suspect[i] and not octaves.moved_since[i]
        if not sure or not np.isfinite(octaves.move[i]):
            continue
        move = _reached(saddles, i, float(octaves.move[i]))
        scale = bench.part("layout").scale[i]
        # The learned response carries the move; what falls short of it stays by the exact one.
        rest = float(octaves.move[i]) - move
        after_them[number] = float(cents_after_move(0.0, -rest, open_mm=scale)) if abs(rest) > LEAST_MM else 0.0
        if saddles is not None and np.isfinite(saddles.room_back[i]):
            turn = bool(saddles.reach.turn[i])
            screw = float(saddles.reach.screw_turned_mm[i]) if turn else move
            rooms[number] = max(float(saddles.room_back[i]) - screw, 0.0)
            facings |= {number: 1.0 - sheet.value("saddle_facing", number)} if turn else {}
    if not after_them:
        return None
    spoken = said.by_string(texts.items()) + ([TOP_ENDS] if is_shaped(bench) else [])
    return spoken, after_saddles(sheet, after_them, rooms, facings)


def _reached(saddles, i, move):
    """As far as the crest can go of the way that its octave asks for."""
    if saddles is None or not np.isfinite(saddles.room_back[i]):
        return move
    short = float(saddles.reach.short_mm[i])
    return move - np.sign(move) * min(abs(short), abs(move)) if short > 0 else move
