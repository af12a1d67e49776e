"""Everything that one step's page shows."""

import uuid
from dataclasses import dataclass
from functools import cached_property

from shop.instruments.kinds import Hand
from shop.worksheets import queries
from shop.worksheets.drawings import drawing_of, parts_of
from shop.worksheets.evaluation import evaluate
from shop.worksheets.families.parts import BENCH
from shop.worksheets.services.photos import WHEN, usual_when
from shop.worksheets.shown.arranging import Arranger
from shop.worksheets.shown.making import CellMaker
from shop.worksheets.shown.rail import rail
from shop.worksheets.shown.since import SinceShown
from shop.worksheets.shown.times import TimeShown
from shop.worksheets.shown.usual import UsualShown
from shop.worksheets.shown.verdicts import FindingsShown
from shop.worksheets.since import since_last
from shop.worksheets.usual import usual_for
from shop.worksheets.wording.said import Said

# The bench's own keys, row by row: (what it types, what stands on it, how it is said when that is a sign).
PAD = (
    (("7", "7", ""), ("8", "8", ""), ("9", "9", ""), ("/64", "⁄64", "sixty-fourths"), ("back", "⌫", "rub out")),
    (("4", "4", ""), ("5", "5", ""), ("6", "6", ""), ("/32", "⁄32", "thirty-seconds"), ("sign", "±", "plus or minus")),
    (("1", "1", ""), ("2", "2", ""), ("3", "3", ""), ("/16", "⁄16", "sixteenths"), (" mm", "mm", "millimetres")),
    (("0", "0", ""), (".", ".", "point"), ("/", "⁄", "over"), (" in", "in", "inches"), ("next", "Next", "")),
)


@dataclass
class StepPage:
    """One step of a worksheet as it stands now. `problems` maps a form's name to a sentence; `typed` keeps its text.

    `stamp` says what the page knows of: nothing that was saved later, whatever of it is shown already.
    """

    worksheet: object
    step: object
    unit: str
    problems: dict
    typed: dict
    may_work: bool
    may_add: bool  # photographs and remarks: also to a signed sheet
    stamp: str
    used: dict  # kind of reading → the gauge that this device used last

    @classmethod
    def of(cls, worksheet, step, *, unit, stamp, problems=None, typed=None, used=None, may_work=True):
        may_change = may_work and not worksheet.is_signed
        return cls(worksheet, step, unit, problems or {}, typed or {}, may_change, may_work, stamp, used or {})

    @cached_property
    def evaluation(self):
        return evaluate(self.worksheet, unit=self.unit)

    @cached_property
    def said(self):
        return Said(self.unit)

    @cached_property
    def mirrored(self):
        return self.worksheet.order.instrument.hand == Hand.LEFT

    @cached_property
    def rail(self):
        return rail(self.evaluation, self.step.key)

    @property
    def here(self):
        return next(one for one in self.rail if one.is_here)

    @property
    def done_count(self):
        return sum(1 for one in self.rail if one.state in ("done", "skipped"))

    @property
    def before(self):
        return self.rail[self.here.number - 2] if self.here.number > 1 else None

    @property
    def after(self):
        return self.rail[self.here.number] if self.here.number < len(self.rail) else None

    @cached_property
    def last_left(self):
        return queries.last_left(self.worksheet.order.instrument, before=self.worksheet)

    @cached_property
    def since(self):
        """What has changed since last time, on the step that reads it as it came."""
        is_first = self.step is self.evaluation.sheet.family.steps[0]
        found = since_last(self.evaluation.sheet, self.last_left) if is_first else None
        return SinceShown.of(found, self.said)

    @cached_property
    def usual(self):
        """Where the saddles usually end up here, on the step that moves them."""
        moves = any(field.key == "saddle_room_back" and field.stage == BENCH for field in self.step.fields)
        return UsualShown.of(usual_for(self.worksheet, self.evaluation.sheet), self.said) if moves else None

    @cached_property
    def groups(self):
        """A step made of one kind of reading may have no field at all."""
        maker = CellMaker(self.evaluation.sheet, self.step, said=self.said, last_left=self.last_left)
        return Arranger(maker, mirrored=self.mirrored, used=self.used).groups()

    @property
    def cells(self):
        return [cell for group in self.groups for cell in group.cells]

    @cached_property
    def findings(self):
        return FindingsShown.of(self.evaluation.by_step.get(self.step.key, ()))

    @cached_property
    def drawings(self):
        numbers = self.evaluation.numbers_for(parts_of(self.step.drawings))
        made = [drawing_of(name, numbers, mirrored=self.mirrored, said=self.said) for name in self.step.drawings]
        return [one for one in made if one is not None]

    @cached_property
    def mark(self):
        return self.evaluation.sheet.marks.get(self.step.key)

    @cached_property
    def notes(self):
        return list(self.worksheet.notes.filter(step=self.step.key).select_related("by"))

    @cached_property
    def photos(self):
        return list(self.worksheet.order.photos.filter(step=self.step.key))

    @cached_property
    def once(self):
        """What makes the readings of one plain form one and the same, however often it is sent."""
        return uuid.uuid4()

    @cached_property
    def time(self):
        return TimeShown.of(self.worksheet, self.step)

    @property
    def may_photograph(self):
        """Also once the sheet is signed: until the order is closed."""
        return self.may_add and self.worksheet.order.closed_at is None

    photo_when = WHEN

    @property
    def photo_usual(self):
        return usual_when(self.worksheet, self.step.key)

    pad_rows = PAD

    @property
    def has_figures(self):
        """Whether any field takes a figure, so that the number keys are of use."""
        return any(group.kind in ("strings", "singles") for group in self.groups)
