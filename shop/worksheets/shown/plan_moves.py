"""Moves of the plan and what should be read after each, as the page prints them."""

from dataclasses import dataclass

from shop.worksheets.checks.bench import Bench
from shop.worksheets.shown.short import short, short_range, unit_words
from shop.worksheets.shown.verdicts import VERDICTS
from shop.worksheets.wording import plan as words

# What moves change: (reading or check, label, unit, whether once a string).
READINGS = (
    ("relief", "relief", "mm", False),
    ("nut_gap", "gap at fret 1, held at fret 3", "mm", True),
    ("height_12", "height at fret 12", "mm", True),
    ("crest_height_bass", "crest of the lowest string", "mm", False),
    ("crest_height_treble", "crest of the highest string", "mm", False),
    ("stud_bass", "bass stud", "mm", False),
    ("stud_treble", "treble stud", "mm", False),
    ("break_angle", "break angle", "deg", True),
    ("edge_clearance", "clearance over the rear edge", "mm", True),
    ("saddle_room_back", "saddle can still go back", "mm", True),
    ("screw_bass", "bass set screw", "mm", False),
    ("screw_treble", "treble set screw", "mm", False),
    ("octave", "octave", "cents", True),
)
LEAST = {"mm": 0.006, "deg": 0.06, "cents": 0.06}
WORKED_OUT = {"break_angle", "edge_clearance"}


@dataclass(frozen=True)
class ExpectedShown:
    """Readings after a move. `once`: (label, unit, text); `rows`: (label, unit, a text a string), under `strings`."""

    once: tuple
    strings: tuple
    rows: tuple


@dataclass(frozen=True)
class MoveShown:
    number: int
    what: str
    title: str
    step: object
    texts: tuple
    note: str
    expected: ExpectedShown


@dataclass(frozen=True)
class EndShown:
    """One reading from now to the end: `places` are strings or None; `rows` a (name, texts, verdicts) each."""

    label: str
    unit: str
    places: tuple
    targets: tuple
    now: tuple  # (text, verdict)
    end: tuple


def values_of(bench):
    """{reading: {string or None: value}} of what moves may change."""
    found = {}
    for key, _, _, by_string in READINGS:
        if key in WORKED_OUT:
            found[key] = {number: one.value for number, one in bench.judged(key).items()}
            continue
        numbers = bench.sheet.numbers if by_string else (None,)
        read = {number: bench.sheet.value(key, number) for number in numbers}
        found[key] = {number: value for number, value in read.items() if value is not None}
    return found


def moves_shown(plan, said):
    shown, before = [], values_of(Bench(plan.before, said))
    for number, move in enumerate(plan.moves, start=1):
        now = values_of(Bench(move.after, said))
        step = plan.before.family.step(move.step)
        shown.append(MoveShown(number, move.what, words.TITLES[move.what], step, move.texts, move.note,
                               _changed(before, now, said, plan.before.numbers)))  # fmt: skip
        before = now
    return shown


def _changed(before, now, said, numbers):
    once, rows = [], []
    for key, label, unit, by_string in READINGS:
        pairs = now[key]
        if not any(abs(value - before[key].get(place, value)) >= LEAST[unit] for place, value in pairs.items()):
            continue
        in_unit = _unit(unit, said)
        if by_string:
            rows.append((label, in_unit, tuple(_text(said, pairs.get(number), unit) for number in numbers)))
        else:
            once.append((label, in_unit, _text(said, pairs[None], unit)))
    return ExpectedShown(tuple(once), numbers if rows else (), tuple(rows))


def _unit(unit, said):
    return unit_words(unit, said).split(",")[0]


def _text(said, value, unit):
    return "" if value is None else short(said, value, unit).replace("°", "")


def ends_shown(plan, said):
    """Every reading that has a target, as it is and as it should be at the end."""
    start, end = Bench(plan.before, said), Bench(plan.end, said)
    found = []
    for key, label, unit, _ in READINGS:
        was, will = start.judged(key), end.judged(key)
        if was:
            found.append(EndShown(
                label, _unit(unit, said), tuple(was),
                tuple(short_range(said, one.low, one.high, unit) for one in was.values()),
                tuple(_judged(said, one, unit) for one in was.values()),
                tuple(_judged(said, will.get(place), unit) for place in was),
            ))  # fmt: skip
    return found


def _judged(said, one, unit):
    return (_text(said, one.value, unit), VERDICTS.get(one.verdict)) if one else ("", None)
