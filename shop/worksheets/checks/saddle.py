"""Octave of every string with the exact move of its saddle, and whether the saddle can make it."""

import numpy as np

from geometry.saddle import usual_facing
from shop.worksheets.checks.build import cannot, findings
from shop.worksheets.families.parts import ENDS
from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE, STATED, Finding
from shop.worksheets.judging import Claim, judge_all, source_of
from shop.worksheets.wording import moves
from shop.worksheets.wording import saddle as words
from shop.worksheets.wording.adjusters import ALONG_ENDS, TOP_ENDS, ends, own_top

SCALES = ("scale_bass_mm", "scale_treble_mm")
TRAVEL = ("saddle_travel_mm", "saddle_turn_mm")


def octave(bench):
    """One finding for each string that was read; the move is from the string's own readings once there are two."""
    why = f"{words.OCTAVE_WHY} {TOP_ENDS}" if is_shaped(bench) else words.OCTAVE_WHY
    return findings(
        bench, "octave", subject=lambda number: f"Octave of string {number}", unit="cents", why=why,
        move=_octave_move(bench), assumed=bench.assumed(*SCALES),
    )  # fmt: skip


def is_shaped(bench):
    """Whether the crests are moved along by the file, on one saddle's top."""
    return bench.sheet.family.along.words == "top"


def _octave_move(bench):
    """What moves one crest along in this family, and how far."""
    octaves = bench.part("octave")
    if octaves is None:
        return None
    one_move = _move_by_ends(bench) if bench.sheet.family.along.form == ENDS else _move_of_one(bench, octaves)

    def move(number, _judged):
        i = bench.sheet.numbers.index(number)
        if octaves.moved_since[i]:
            return words.moved_since(bench.said, float(octaves.moved_since[i]))
        return words.SUSPECT if octaves.suspect[i] else one_move(i)

    return move


def _move_of_one(bench, octaves):
    """Each string has a saddle, or a piece of one, of its own."""
    along = bench.sheet.family.along
    if is_shaped(bench):
        return lambda i: own_top(bench.said, float(octaves.move[i]))
    saddles, pitch = bench.part("saddles"), moves.thread_pitch(bench.sheet.threads, along.thread)
    return lambda i: _one_move(bench, saddles, i, float(octaves.move[i]), pitch)


def _move_by_ends(bench):
    """One bridge carries all crests: both ends are solved together, and each string is told what it is left with."""
    found, along = bench.part("ends"), bench.sheet.family.along
    if found is None:
        return lambda i: ""
    pitch = moves.thread_pitch(bench.sheet.threads, along.thread)
    turning = ends(bench.said, ALONG_ENDS[along.words], found.bass, found.treble, pitch)
    return lambda i: words.by_ends(turning, float(found.after[i]), stuck=found.stuck)


def _one_move(bench, saddles, i, mm, pitch):
    known = saddles is not None and np.isfinite(saddles.room_back[i])
    if known and not saddles.reach.reaches[i]:
        if saddles.reach.reaches_turned[i]:
            return words.turn_round(bench.said, float(saddles.reach.screw_turned_mm[i]), saddles.facing[i], pitch)
        facing = None if bench.sheet.family.any_field("saddle_facing") is None else bool(np.isfinite(saddles.facing[i]))
        return words.cannot_reach(bench.said, mm, float(saddles.reach.short_mm[i]), facing)
    return words.along(bench.said, mm, pitch, left=float(saddles.reach.left_mm[i]) if known else None)


def saddle_travel(bench):
    """Whether each saddle whose octave is not right can get there. It explains the octave's finding and blocks nothing.

    The value is the travel left towards the nearer stop after the move, as the saddle faces or turned round, mm.
    """
    if not bench.has_check("saddle_travel"):
        return []
    saddles = bench.part("saddles")
    if saddles is None:
        return [cannot(bench, "saddle_travel", "saddles", subject="The saddles' travel")]
    left = np.fmax(saddles.reach.left_mm, saddles.reach.left_turned_mm)
    claims = {
        number: Claim(float(left[i]), 0.0, None, source_of(bench.sheet, "saddle_room_back", number))
        for i, number in enumerate(bench.sheet.numbers)
        if np.isfinite(saddles.reach.left_mm[i])
    }
    judged = zip(claims, judge_all(list(claims.values())), strict=True)
    return [_travel(bench, saddles, number, one) for number, one in judged]


def _travel(bench, saddles, number, judged):
    i = bench.sheet.numbers.index(number)
    moves_at_all = bool(saddles.move[i])
    return Finding(
        key=f"saddle_travel:{number}", step=bench.step_of("saddle_travel"), string=number, check="saddle_travel",
        verdict=judged.verdict if moves_at_all else IN_RANGE, value=judged.value, uncertainty=judged.spread, low=0.0,
        headline=words.travel(bench.said, number, saddles, i), settle=judged.settle if moves_at_all else "",
        why="" if judged.is_fine or not moves_at_all else words.TRAVEL_WHY, blocks=False,
        assumed=bench.assumed(*TRAVEL),
    )  # fmt: skip


def saddle_direction(bench):
    """Which way each saddle faces, and which way it ought to, when that makes a difference."""
    if not bench.has_check("saddle_direction"):
        return []
    saddles = bench.part("saddles")
    usual = usual_facing(len(bench.sheet.numbers))
    return [
        _direction(bench, saddles, number, i, usual[i])
        for i, number in enumerate(bench.sheet.numbers)
        if bench.sheet.choice("saddle_facing", number)
    ]


def _direction(bench, saddles, number, i, usual):
    faces = words.FACES[bench.sheet.choice("saddle_facing", number)]
    known = saddles is not None and np.isfinite(saddles.reach.left_mm[i])
    turn = bool(known and saddles.reach.turn[i])
    return Finding(
        key=f"saddle_direction:{number}", step=bench.step_of("saddle_direction"), string=number,
        check="saddle_direction", verdict=OUT_OF_RANGE if turn else IN_RANGE if known else STATED,
        value=bench.sheet.value("saddle_facing", number), unit="choice", blocks=False,
        headline=words.direction(number, faces, turn=turn, usual=words.USUAL[usual] == faces),
        move=words.TURN if turn else "", why=words.DIRECTION_WHY if turn else "", assumed=bench.assumed(*TRAVEL),
    )  # fmt: skip
