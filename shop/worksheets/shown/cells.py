"""The fields of one step, as rows of cells: what stands in each, and what is shown beside it."""

from dataclasses import dataclass
from functools import cached_property

from shop.worksheets.device import kind_of_reading
from shop.worksheets.families.parts import (
    BENCH,
    CELSIUS,
    CENTS,
    CHOICE,
    DEG,
    LEFT,
    MM,
    NUMBERS,
    PERCENT,
    RECEIVED,
    TEXT,
    YES_NO,
)  # fmt: skip
from shop.worksheets.gauges import GAUGES, gauge_for
from shop.worksheets.judging import Claim, Source, judge_all
from shop.worksheets.shown.verdicts import VERDICTS

MOST_IN_A_ROW = 7
UNIT_WORDS = {"mm": "mm", "in": "inches", "64ths": "64ths of an inch"}
OTHER_UNITS = {DEG: "degrees", CENTS: "cents, sharp is plus", PERCENT: "%", CELSIUS: "°C"}
UNITS_SAID = (" mm", "/64 in", " in", " cents", " %", " °C")
ANSWERS = (("yes", "yes"), ("no", "no"))


@dataclass(frozen=True)
class Cell:
    """One place to read. `value` is what its field shows, `basis` the id of the reading that stands there."""

    place: object
    basis: int | None
    value: str
    state: str  # '', saved, unreadable, rival
    problem: str
    rivals: tuple
    verdict: object  # a Shown, or None
    facts: tuple  # texts beside it, in the order of its group's fact labels
    gauge: str
    can_undo: int | None  # the reading that 'undo' would take back

    @property
    def id(self):
        return place_id(self.place)

    @property
    def label(self):
        """The whole name, for those who hear the page."""
        of = f", string {self.place.string}" if self.place.string else ""
        return f"{self.place.field.label}{of}"

    @property
    def says_something(self):
        """Whether anything stands beside its field."""
        return bool(self.problem or self.verdict or self.rivals)

    @property
    def choices(self):
        return ANSWERS if self.place.field.unit == YES_NO else self.place.field.choices


@dataclass(frozen=True)
class Group:
    """Cells that are read together: a row of strings, single fields side by side, answers, choices or a text."""

    kind: str  # strings, singles, answers, choices, text
    title: str
    help: str
    unit: str
    cells: tuple
    fact_labels: tuple = ()
    gauges: tuple = ()
    gauge_now: str = ""  # the one that this device used last
    columns: int = 1

    @property
    def id(self):
        return self.cells[0].id

    @cached_property
    def shared(self):
        """(label, text) of the facts that are the same for every cell: said once."""
        shared = [place for place in range(len(self.fact_labels)) if self._is_shared(place)]
        return [(self.fact_labels[place], self.cells[0].facts[place]) for place in shared]

    def _is_shared(self, place):
        texts = {one.facts[place] for one in self.cells}
        return len(self.cells) > 1 and len(texts) == 1 and "" not in texts

    @cached_property
    def _rows(self):
        """Which facts differ from cell to cell and are there at all."""
        return [
            place for place in range(len(self.fact_labels))
            if any(one.facts[place] for one in self.cells) and not self._is_shared(place)
        ]  # fmt: skip

    @property
    def rows(self):
        return [self.fact_labels[place] for place in self._rows]

    @property
    def filled(self):
        """(cell, [(label, text) …]), one pair a row."""
        return [
            (cell, [(self.fact_labels[place], cell.facts[place]) for place in self._rows]) for cell in self.cells
        ]


class CellMaker:
    """Makes the cells of a step from a sheet. `last_left` maps (key, string) to how it was left on the last visit."""

    FACTS = ("target", "read before", "as received", "left last time")

    def __init__(self, sheet, step, *, said, last_left, mirrored, used=None):
        self.sheet, self.step, self.said, self.last_left = sheet, step, said, last_left
        self.mirrored, self.used = mirrored, used or {}
        self.received, self.later = sheet.only(RECEIVED), sheet.only(BENCH, LEFT)
        self.places = sheet.family.places(sheet.numbers, step.key)
        self.verdicts = self._verdicts()

    def groups(self):
        made, singles, answers = [], [], []
        for field in self.step.fields:
            cells = [self.cell(place) for place in self.places if place.field is field]
            kind = kind_of(field)
            if singles and (kind != "singles" or together(field) != together(singles[-1].place.field)):
                made.append(self._singles(singles))
                singles = []
            if kind == "singles":
                singles += cells
            elif kind == "answers":
                answers += cells
            else:
                made.append(self._row(kind, field, cells))
        made += [self._singles(singles)] if singles else []
        return made + ([Group("answers", "", "", "", tuple(answers))] if answers else [])

    def _row(self, kind, field, cells):
        cells = tuple(reversed(cells) if self.mirrored else cells)
        columns = len(cells) if len(cells) <= MOST_IN_A_ROW else -(-len(cells) // 2)
        return Group(kind, field.label, field.help, unit_words(field.unit, self.said), cells, self.FACTS,
                     gauges_for(field), self._gauge_now(cells), columns)  # fmt: skip

    def _singles(self, cells):
        field = cells[0].place.field
        cells = tuple(paired(cells) if self.mirrored else cells)
        if len(cells) == 1:
            return self._row("singles", field, cells)
        return Group("singles", "", "", unit_words(field.unit, self.said), cells, self.FACTS, gauges_for(field),
                     self._gauge_now(cells), min(len(cells), 2))  # fmt: skip

    def _gauge_now(self, cells):
        kinds = (kind_of_reading(one.place.key) for one in cells)
        return next((self.used[kind] for kind in kinds if kind in self.used), "")

    def cell(self, place):
        at = (place.stage, self.step.key, place.key, place.string)
        stands, unreadable, rivals = self.sheet.newest(at), self.sheet.unreadable(at), self.sheet.rivals(at)
        holding = self.sheet.holding(at)
        shown = unreadable or holding
        if rivals and holding:
            rivals = (holding, *rivals)
        return Cell(
            place=place,
            basis=stands.pk if stands else None,
            value=as_typed(shown, self.said.unit) if shown else "",
            state="rival" if rivals else "unreadable" if unreadable else "saved" if holding else "",
            problem=unreadable.problem if unreadable else "",
            rivals=rivals,
            verdict=self.verdicts.get(at),
            facts=self._facts(place, at) if place.field.unit in NUMBERS else ("",) * len(self.FACTS),
            gauge=holding.gauge if holding else "",
            can_undo=(unreadable or stands).pk if (unreadable or stands) and not rivals else None,
        )

    def _facts(self, place, at):
        field, key = place.field, (place.key, place.string)
        low, high = self.sheet.target(field.target_key, place.string) if field.target_key else (None, None)
        earlier = self.later.now(*key)
        if earlier is not None and earlier.place == at:
            earlier = None
        came = self.received.now(*key) if place.stage != RECEIVED else None
        last = self.last_left.get(key)
        return (
            short_range(self.said, low, high, field.unit),
            self._short(earlier, field) if place.stage != RECEIVED else "",
            self._short(came, field),
            self._short(last, field),
        )

    def _short(self, reading, field):
        return short(self.said, reading.value, field.unit) if reading and reading.value is not None else ""

    def _verdicts(self):
        """A verdict for each number that stands, judged by its own gauge against the target."""
        claims = {}
        for place in self.places:
            at = (place.stage, self.step.key, place.key, place.string)
            reading, field = self.sheet.holding(at), place.field
            if reading is None or reading.value is None or not field.target_key:
                continue
            low, high = self.sheet.target(field.target_key, place.string)
            gauge = gauge_for(reading.gauge, field)
            sources = (Source(field, gauge, gauge.standard),) if gauge else ()
            claims[at] = Claim(reading.value, low, high, sources)
        judged = judge_all(list(claims.values()), rule=self.sheet.rule)
        return {at: VERDICTS.get(one.verdict) for at, one in zip(claims, judged, strict=True)}


def as_typed(reading, unit):
    """What a field shows: as it was typed; a bare figure in another unit than the page's carries its own."""
    if reading.unit in ("", unit) or reading.value is None or not _is_bare(reading.raw):
        return reading.raw
    if reading.unit == "64ths":
        return f"{reading.raw}/64 in" if reading.raw.isdigit() else f"{reading.value / 25.4:.4f} in"
    return f"{reading.raw} {reading.unit}"


def _is_bare(raw):
    try:
        float(raw.replace(",", "."))
    except ValueError:
        return False
    return True


def place_id(place):
    """The name of a place on its page; `place` has a stage, a key and a string or None."""
    return "-".join(str(part) for part in (place.stage, place.key, place.string) if part)


STATES = {"saved": "saved", "withdrawn": "", "unreadable": "unreadable", "rival": "rival"}


def answer_of(saved, *, unit):
    """What a page is told of a reading that it sent: what became of it, and how its field stands now."""
    told = {"status": saved.status, "problem": saved.problem, "basis": saved.basis, "stale": list(saved.stale)}
    if saved.reading is None:
        return told
    reading = saved.reading
    field = {
        "value": as_typed(reading, unit), "basis": saved.basis, "state": STATES[saved.status], "gauge": reading.gauge,
        "problem": saved.problem, "undo": None if saved.rivals else reading.pk,
    }  # fmt: skip
    return told | {"fields": {place_id(reading): field}}


def unit_words(unit, said):
    """What the figures of a row are in."""
    return UNIT_WORDS[said.unit] if unit == MM else OTHER_UNITS.get(unit, "")


def together(field):
    """What single fields must share to stand in one group: how they are read, and in what."""
    return field.gauges, field.unit


def kind_of(field):
    if field.unit == TEXT:
        return "text"
    if field.unit == YES_NO:
        return "answers"
    if field.unit == CHOICE:
        return "choices"
    return "strings" if field.per == "string" else "singles"


def gauges_for(field):
    """The gauges that can read `field`, the usual ones first."""
    others = [key for key, one in GAUGES.items() if one.unit == field.unit and key not in field.gauges]
    return tuple(GAUGES[key] for key in (*field.gauges, *others)) if field.gauges else ()


def paired(cells):
    """Bass and treble side by side, the treble first: as a left-handed player sees them."""
    turned = list(cells)
    for place in range(len(turned) - 1):
        if turned[place].place.key.endswith("_bass") and turned[place + 1].place.key.endswith("_treble"):
            turned[place], turned[place + 1] = turned[place + 1], turned[place]
    return turned


def short(said, value, unit):
    """A value without its unit, which stands at the head of the row."""
    text = said.value(value, unit)
    return next((text.removesuffix(one) for one in UNITS_SAID if text.endswith(one)), text)


def short_range(said, low, high, unit):
    if low is None and high is None:
        return ""
    if low is None:
        return f"≤ {short(said, high, unit)}"
    if high is None:
        return f"≥ {short(said, low, unit)}"
    # A place where a narrow column may break the line.
    return f"{short(said, low, unit)}–\u200b{short(said, high, unit)}".replace("°–", "–")
