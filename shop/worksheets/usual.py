"""Where the saddles usually end up here: learned from the shop's own finished worksheets.

Of every other instrument with the same bridge family and strings, the newest signed worksheet says how far each crest
stood behind that of the highest string, and the octave that was left is taken out of it. Only differences between
strings are learned: where the whole bridge stands differs from one instrument to the next.
"""

from dataclasses import dataclass

import numpy as np

from geometry.intonation import intonation_move_mm
from shop.worksheets import queries
from shop.worksheets.families.parts import RECEIVED
from shop.worksheets.model.lacking import Lacking
from shop.worksheets.model.layout import layout_of, per_string
from shop.worksheets.model.octave import FACINGS
from shop.worksheets.model.tail import FORWARD

KEYS = ("saddle_room_back", "saddle_facing", "octave")
LEAST = 3  # fewer finished instruments say nothing about a spread
SAME_SHARE = 0.02  # two diameters within this share are the same string of another set


@dataclass(frozen=True)
class Usual:
    """Per string, bass to treble, mm behind the crest of the highest string, back positive.

    `middle` and `spread` (one standard deviation, n − 1) over `count` instruments, NaN below `LEAST` of them;
    `here` is this instrument as it stands now, its octave taken out, NaN where it was not read.
    """

    numbers: tuple
    count: np.ndarray
    middle: np.ndarray
    spread: np.ndarray
    here: np.ndarray

    def __bool__(self):
        return bool(np.isfinite(self.middle).any())


def usual_for(worksheet, sheet):
    """What is usual for this family and these strings, or None where nothing can be learned. Two queries."""
    if sheet.family is None or not sheet.numbers or sheet.family.any_field("saddle_room_back") is None:
        return None
    alike = [one for one in queries.finished_alike(worksheet) if same_strings(one["strings"], worksheet.strings)]
    if len(alike) < LEAST:
        return None
    values = queries.last_of_each([one["pk"] for one in alike], KEYS)
    places = np.array([_placed(one, values, sheet.numbers) for one in alike])
    count, middle, spread = summed_up(places)
    return Usual(sheet.numbers, count, middle, spread, _here(sheet))


def same_strings(some, others):
    """Whether two sets are the same: as many strings, each of one kind and of one thickness."""
    pairs = list(zip(some, others, strict=False))
    return len(some) == len(others) and all(_same(one, other) for one, other in pairs)


def _same(one, other):
    if one.get("material") != other.get("material"):
        return False
    first, second = one.get("diameter_mm"), other.get("diameter_mm")
    if first is None or second is None:
        return first is second
    return abs(first - second) <= SAME_SHARE * max(first, second)


def summed_up(places):
    """(count, middle, spread) over the first axis; shape (instruments, strings) in, (strings,) out."""
    known = np.isfinite(places)
    count = known.sum(axis=0)
    enough = count >= LEAST
    middle = np.where(known, places, 0.0).sum(axis=0) / np.maximum(count, 1)
    squares = np.where(known, (places - middle) ** 2, 0.0).sum(axis=0)
    spread = np.sqrt(squares / np.maximum(count - 1, 1))
    return count, np.where(enough, middle, np.nan), np.where(enough, spread, np.nan)


def behind_highest(room_mm, turn_mm, forward, cents, scale_mm):
    """Crests behind that of the highest string, as they would stand with a true octave; back positive, mm."""
    place = -room_mm - forward * turn_mm / 2 + intonation_move_mm(cents, open_mm=scale_mm)
    return place - place[..., -1:]


def _placed(row, values, numbers):
    read = {key: np.array([values.get((row["pk"], key, number), np.nan) for number in numbers]) for key in KEYS}
    forward = [_forward(code) for code in read["saddle_facing"]]
    # The two sides' scales differ on fanned frets by little beside what a cent is worth: their middle does.
    scale = np.nanmean([_spec(row["spec"], "scale_bass_mm"), _spec(row["spec"], "scale_treble_mm")])
    turn = _spec(row["spec"], "saddle_turn_mm")
    return behind_highest(read["saddle_room_back"], 0.0 if np.isnan(turn) else turn, np.array(forward),
                          read["octave"], scale)  # fmt: skip


def _forward(code):
    names = list(FACINGS)
    return FORWARD[names[int(code)]] if np.isfinite(code) and 0 <= code < len(names) else 0.0


def _spec(spec, key):
    value = (spec.get(key) or {}).get("value")
    return float(value) if isinstance(value, int | float) else np.nan


def _here(sheet):
    try:
        scale = layout_of(sheet).scale
    except Lacking:
        return np.full(len(sheet.numbers), np.nan)
    forward = np.array([FORWARD.get(sheet.choice("saddle_facing", number), 0.0) for number in sheet.numbers])
    settled = np.array([_is_settled(sheet, number) for number in sheet.numbers])
    room = np.where(settled, per_string(sheet, "saddle_room_back"), np.nan)
    return behind_highest(room, sheet.spec_value("saddle_turn_mm") or 0.0, forward, per_string(sheet, "octave"),
                          scale)  # fmt: skip


def _is_settled(sheet, number):
    """Whether octave and saddle belong together: a saddle that went after its octave was read tells nothing."""
    octave, room = sheet.now("octave", number), sheet.now("saddle_room_back", number)
    return bool(octave and room) and (octave.pk > room.pk or room.stage == RECEIVED)
