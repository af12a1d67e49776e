"""Where the saddles usually end up here: learned from the shop's own finished worksheets.

Of every other instrument with the same bridge family and strings, the newest signed worksheet says how far each crest
stood behind that of the highest string. Only differences between strings are learned: where the whole bridge stands
differs from one instrument to the next. Where those sheets carry enough, the model of the fretted string is fitted to
them and says it for this instrument's own heights and scale; otherwise the middle of the differences is all there is.
"""

import hashlib
from dataclasses import dataclass

import numpy as np
from django.core.cache import cache

from geometry.intonation import intonation_move_mm
from shop.worksheets import queries
from shop.worksheets.families.parts import LEFT, RECEIVED
from shop.worksheets.learned import finished_of, learned_for, share_of
from shop.worksheets.model.lacking import Lacking
from shop.worksheets.model.layout import layout_of, per_string
from shop.worksheets.model.tail import FORWARD
from shop.worksheets.sheet import Sheet

KEYS = ("saddle_room_back", "saddle_facing", "octave", "height_12", "nut_gap", "relief")
LEAST = 3  # fewer finished instruments say nothing about a spread
MOST = 60  # the newest are enough, and what a shop does now
SAME_SHARE = 0.02  # two diameters within this share are the same string of another set
WORSE = 1.5  # a fit that leaves so much more scatter than the plain middles do has not understood these strings
KEPT_FOR_S = 7 * 24 * 3600  # of what was learned; a sheet more or less, or one reopened, is another question
FINEST_MM = 0.15  # of that scatter: a steel rule's half millimetre over √12, GUM 4.3.7


@dataclass(frozen=True)
class Usual:
    """Per string, bass to treble, mm behind the crest of the highest string, back positive.

    `middle` with `spread`, one standard deviation, NaN where it is not known: of the fit where `is_fitted`, else the
    median of at least `LEAST` instruments and how they scatter (n − 1). `count` says how many instruments, string by
    string. `here` is this instrument as it stands now, its octave taken out, NaN where it was not read.
    """

    numbers: tuple
    count: np.ndarray
    middle: np.ndarray
    spread: np.ndarray
    here: np.ndarray
    is_fitted: bool = False

    def __bool__(self):
        return bool(np.isfinite(self.middle).any())


@dataclass(frozen=True)
class Habits:
    """What the finished sheets of one bridge family and one set of strings say: differences, and a Share or None."""

    count: np.ndarray
    middle: np.ndarray
    spread: np.ndarray
    share: object


def usual_for(worksheet, sheet):
    """What is usual for this family and these strings, or None where nothing can be learned.

    Two queries; one more when a finished sheet has come since the last time that somebody asked.
    """
    if sheet.family is None or not sheet.numbers or sheet.family.any_field("saddle_room_back") is None:
        return None
    alike = [one for one in queries.finished_alike(worksheet) if same_strings(one["strings"], worksheet.strings)]
    if len(alike) < LEAST:
        return None
    habits = _kept_habits(alike[:MOST], sheet.family)
    learned = learned_for(sheet, habits.share) if habits.share else None
    if learned is None:
        return Usual(sheet.numbers, habits.count, habits.middle, habits.spread, _true_places(sheet))
    return Usual(sheet.numbers, np.array(habits.share.count), *learned, _true_places(sheet), is_fitted=True)


def _kept_habits(rows, family):
    """The habits of these finished sheets: a fit takes as long as all else on a page, so it is made once."""
    told = repr([(one["pk"], one["signed_at"].isoformat()) for one in rows])
    key = f"habits:{hashlib.sha256(told.encode()).hexdigest()}"
    found = cache.get(key)
    if found is None:
        found = habits_of(_sheets(rows, family))
        cache.set(key, found, KEPT_FOR_S)
    return found


def habits_of(sheets):
    """The Habits of finished sheets of one family and one set of strings."""
    count, middle, spread = summed_up(np.array([_true_places(one) for one in sheets]))
    return Habits(count, middle, spread, _share(sheets, spread))


def _sheets(rows, family):
    """The finished sheets as plain data with what was read of them since they came in."""
    readings = queries.kept_readings([one["pk"] for one in rows], KEYS)
    return [
        Sheet(
            family=family, stringing="", strings=tuple(one["strings"]), targets={}, spec=one["spec"], threads={},
            reference_pitch_hz=one["reference_pitch_hz"], readings=readings.get(one["pk"], ()),
        )
        for one in rows
    ]  # fmt: skip


def _share(sheets, spread):
    """The fit, where there are sheets enough for one and it tells them no worse than plain middles do; else None."""
    finished = [finished_of(one, _places(one), _settled_octaves(one)) for one in sheets]
    finished = [one for one in finished if one is not None]
    found = share_of(finished) if len(finished) >= LEAST else None
    if found is None:
        return None
    apart = spread[:-1][np.isfinite(spread[:-1])]
    plain = np.sqrt((apart**2).mean() / 2.0) if apart.size else 0.0  # of one crest: a difference has two
    return found if found.scatter_mm <= WORSE * max(plain, FINEST_MM) else None


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
    count = np.isfinite(places).sum(axis=0)
    places = np.where(count >= LEAST, places, np.nan)
    known = np.isfinite(places)
    middle = np.full(places.shape[-1], np.nan)
    middle[known.any(axis=0)] = np.nanmedian(places[:, known.any(axis=0)], axis=0)
    mean = np.where(known, places, 0.0).sum(axis=0) / np.maximum(count, 1)
    squares = np.where(known, (places - mean) ** 2, 0.0).sum(axis=0)
    spread = np.sqrt(squares / np.maximum(count - 1, 1))
    return count, middle, np.where(count >= LEAST, spread, np.nan)


def behind_highest(place_mm, cents, scale_mm):
    """Crests behind that of the highest string, as they would stand with a true octave; back positive, mm."""
    true = place_mm + intonation_move_mm(cents, open_mm=scale_mm)
    return true - true[..., -1:]


def _places(sheet):
    """Crests one against another, back positive, mm; NaN where the saddle's travel was not read."""
    forward = np.array([FORWARD.get(sheet.choice("saddle_facing", number), 0.0) for number in sheet.numbers])
    return -per_string(sheet, "saddle_room_back") - forward * (sheet.spec_value("saddle_turn_mm") or 0.0) / 2


def _settled_octaves(sheet):
    """Octaves that belong to their saddle's place: a saddle that went after its octave was read tells nothing.

    An octave as left comes after everything.
    """
    settled = [_is_settled(sheet, number) for number in sheet.numbers]
    return np.where(settled, per_string(sheet, "octave"), np.nan)


def _is_settled(sheet, number):
    octave, room = sheet.now("octave", number), sheet.now("saddle_room_back", number)
    return bool(octave and room) and (octave.stage == LEFT or room.stage == RECEIVED or octave.pk > room.pk)


def _true_places(sheet):
    try:
        scale = layout_of(sheet).scale
    except Lacking:
        return np.full(len(sheet.numbers), np.nan)
    return behind_highest(_places(sheet), _settled_octaves(sheet), scale)
