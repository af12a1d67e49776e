"""The octaves as read, round by round, and the moves of the crests that make them true."""

from dataclasses import dataclass

import numpy as np

from geometry.intonation import intonation_move_mm, learned_move
from geometry.saddle import FLAT_TO_FRONT, FLAT_TO_REAR, Reach, saddle_reach
from shop.worksheets.gauges import gauge_for
from shop.worksheets.model.lacking import Lacking, believed
from shop.worksheets.model.layout import per_string
from shop.worksheets.together import ask, asking

FACINGS = {"flat_rear": FLAT_TO_REAR, "flat_front": FLAT_TO_FRONT}  # what the worksheet says → geometry's
SAME_CENTS = 0.5  # two octaves within this are one and the same place, read twice
MOVED_MM = 0.1  # less than this between two readings of the travel is no move of the saddle


@dataclass(frozen=True)
class Octaves:
    """Per string, bass to treble.

    `cents`: the newest reading. `move`: of the crest, back positive, mm. `rounds`: how many readings the move rests
    on. `suspect`: they contradict each other. `moved_since`: how far the saddle went after the newest reading, mm,
    back positive; 0 where it did not.
    """

    cents: np.ndarray
    move: np.ndarray
    rounds: np.ndarray
    suspect: np.ndarray
    moved_since: np.ndarray


@asking
def octaves_of(sheet, layout):
    rows = [_rounds(sheet, number) for number in sheet.numbers]
    if not any(rows):
        raise Lacking("No octave has been read.")
    most = max(len(row) for row in rows)
    place, cents = (np.array([[one[i] for one in row] + [np.nan] * (most - len(row)) for row in rows]) for i in (0, 1))
    found = yield ask(learned_move, place, cents, open_mm=layout.scale, tuner_cents=_tuners(sheet))
    newest = np.array([row[-1][1] if row else np.nan for row in rows])
    rounds = np.isfinite(place).sum(axis=-1)
    # One round: the exact move with the stretch held. More: the string's own response.
    exact = yield ask(intonation_move_mm, newest, open_mm=layout.scale)
    move = np.where(rounds > 1, found.move_mm, exact)
    return Octaves(newest, move, rounds, found.suspect & (rounds > 1), _moved_since(sheet))


def _rounds(sheet, number):
    """[(place, cents)] of one string, place back positive: the rounds of which it is known how the saddle moved.

    Between two rounds the travel must have been read again. Where it was not, and the octave has changed, nobody knows
    how far the saddle went: the later round starts a new series.
    """
    rooms, found, since = sheet.series("saddle_room_back", number), [], -1
    for octave in sheet.series("octave", number):
        fresh = [one for one in rooms if since < one.pk < octave.pk]
        if fresh or not found:
            place = -fresh[-1].value if fresh else _first_place(sheet, number, octave, rooms)
        else:
            place = found[-1][0]
            if abs(octave.value - found[-1][1]) > SAME_CENTS:
                found = []
        found.append((place, octave.value))
        since = octave.pk
    return found


def _first_place(sheet, number, octave, rooms):
    """Place at the first octave when the travel was only read after it: that reading, unless another octave is between.

    Octaves as received come before anything is turned.
    """
    if not rooms:
        return 0.0
    between = [one for one in sheet.series("octave", number) if octave.pk < one.pk < rooms[0].pk]
    return 0.0 if between else -rooms[0].value


def _tuners(sheet):
    field = sheet.family.any_field("octave")
    readings = [sheet.now("octave", number) for number in sheet.numbers]
    return np.array([gauge_for(one.gauge if one else "", field).standard for one in readings])


def _moved_since(sheet):
    """How far each saddle went after its newest octave: only readings of the travel on both sides of it tell."""
    found = []
    for number in sheet.numbers:
        octave, rooms = sheet.now("octave", number), sheet.series("saddle_room_back", number)
        before = [one for one in rooms if octave and one.pk < octave.pk]
        moved = before[-1].value - rooms[-1].value if before else 0.0
        found.append(moved if abs(moved) >= MOVED_MM else 0.0)
    return np.array(found)


@dataclass(frozen=True)
class Saddles:
    """Per string, bass to treble, mm: `room_back` and `room_front` left on the screw, `move` wanted of the crest.

    `facing` is geometry's (NaN where not read); `reach` is None for a string of which the octave was not read.
    """

    room_back: np.ndarray
    room_front: np.ndarray
    facing: np.ndarray
    move: np.ndarray
    reach: Reach
    travel: float


def facings(sheet):
    """Which way each saddle faces, as geometry says it; NaN where it was not read."""
    return np.array([FACINGS.get(sheet.choice("saddle_facing", number), np.nan) for number in sheet.numbers])


@asking
def saddles_of(sheet, octaves, wanted):
    """`octaves` may be None: then only the saddles' places are known. `wanted`: which strings ask for a move at all."""
    room = per_string(sheet, "saddle_room_back")
    travel, turn = believed(sheet, "saddle_travel_mm"), believed(sheet, "saddle_turn_mm")
    if travel is None:
        raise Lacking("The instrument's record lacks: saddle screw's whole travel.")
    if not np.isfinite(room).any():
        raise Lacking("How far the saddles can still go back has not been read.")
    front = np.maximum(travel - room, 0.0)
    facing = facings(sheet)
    move = np.where(wanted, 0.0 if octaves is None else octaves.move, 0.0)
    reach = yield ask(
        saddle_reach, move, back_left_mm=room, forward_left_mm=front, facing=facing,
        turn_shift_mm=np.full(len(room), turn or 0.0),
    )  # fmt: skip
    return Saddles(room, front, facing, move, reach, travel)
