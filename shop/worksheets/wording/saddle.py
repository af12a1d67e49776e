"""Words for octave, saddle travel and saddle direction."""

from geometry.saddle import FLAT_TO_FRONT, FLAT_TO_REAR
from shop.worksheets.wording.moves import LEAST_MM, amount
from shop.worksheets.wording.said import cents

OCTAVE_WHY = "Fretted notes are out of tune with open ones; sharp means that the string has to get longer."
TRAVEL_WHY = "Better known before the strings come off than after."
DIRECTION_WHY = "A saddle turned round carries its crest along by about its thickness, without a turn of the screw."
TURN = "Slacken the string, turn the saddle round, tune, and read the octave again."
SUSPECT = (
    "The readings contradict each other: before the saddle is moved again look at string, slot and seating, then read "
    "octave and travel once more."
)
FACES = {"flat_rear": "flat face to the rear", "flat_front": "flat face to the front"}
USUAL = {FLAT_TO_REAR: FACES["flat_rear"], FLAT_TO_FRONT: FACES["flat_front"]}


def _way(mm):
    return "back" if mm > 0 else "forward"


def along(said, mm, pitch, *, left=None):
    """'Saddle back 0.52 mm (1 turn). That leaves 2.30 mm to the nearer stop.'"""
    if abs(mm) < LEAST_MM:
        return ""
    text = f"Saddle {_way(mm)} {amount(said, mm, pitch)}."
    return text if left is None else f"{text} That leaves {said.length(left)} to the nearer stop."


def turn_round(said, mm, facing, pitch):
    """The saddle reaches only turned round; then the screw moves by `mm`."""
    to = USUAL[FLAT_TO_FRONT if facing == FLAT_TO_REAR else FLAT_TO_REAR]
    then = f", then {_way(mm)} {amount(said, mm, pitch)}" if abs(mm) >= LEAST_MM else ""
    return f"It does not reach as it faces. Turn the saddle round ({to}){then}."


def cannot_reach(said, mm, short, facing_known):
    """`facing_known` is None where saddles cannot be turned round at all."""
    first = f"The crest would have to go {said.length(abs(mm))} {_way(mm)}, and "
    last = f"{said.length(short)} short. It needs another saddle, screw or bridge."
    if facing_known is None:
        return f"{first}it does not get there: {last}"
    if facing_known:
        return f"{first}neither as it faces nor turned round does it get there: {last}"
    hint = "Say which way it faces, to see whether turned round it would."
    return f"{first}as it faces it does not get there: {said.length(short)} short. {hint}"


def by_ends(turning, after_cents, *, stuck):
    """One move for all strings, and where it leaves this one."""
    limit = " An end can come no further forward." if stuck else ""
    if not turning:
        return f"Both ends stand as well as they can for all strings together.{limit}"
    return f"{turning} All strings share it: this one then stands at about {cents(after_cents)}.{limit}"


def moved_since(said, mm):
    return f"The saddle has gone {said.length(abs(mm))} {_way(mm)} since this was read: tune, and read it again."


def travel(said, number, saddles, i):
    """What the travel allows for one string."""
    back, front = said.length(float(saddles.room_back[i])), said.length(float(saddles.room_front[i]))
    here = f"The saddle of string {number} can go {back} back and {front} forward"
    wanted = float(saddles.move[i])
    if not wanted:
        return f"{here}."
    needs = f"its octave asks for {said.length(abs(wanted))} {_way(wanted)}"
    if saddles.reach.reaches[i]:
        return f"{here}; {needs}: it reaches."
    if saddles.reach.reaches_turned[i]:
        return f"{here}; {needs}: it reaches only turned round."
    return f"{here}; {needs}: it falls {said.length(float(saddles.reach.short_mm[i]))} short."


def direction(number, faces, *, turn, usual):
    if turn:
        return f"The saddle of string {number} sits with its {faces}, and must be turned round to reach."
    if usual:
        return f"The saddle of string {number} sits with its {faces}, as it usually starts."
    return f"The saddle of string {number} sits with its {faces}: not the usual start, and no harm while it reaches."
