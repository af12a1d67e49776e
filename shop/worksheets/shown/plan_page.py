"""The plan's page: what is out, what cannot work, every move and what to read after it, and what if."""

from dataclasses import dataclass
from functools import cached_property

from shop.instruments.kinds import Hand
from shop.stock.models import PriceItem
from shop.worksheets.checks.bench import Bench
from shop.worksheets.drawings import buzz_field, cents_field, stud_window
from shop.worksheets.evaluation import evaluate_sheet
from shop.worksheets.families.parts import RECEIVED
from shop.worksheets.numbers import numbers_of
from shop.worksheets.plan.moves import Plan
from shop.worksheets.plan.solve import plan_of
from shop.worksheets.plan.warnings import WORK
from shop.worksheets.sheet import Sheet
from shop.worksheets.shown.plan_moves import ends_shown, moves_shown
from shop.worksheets.shown.plan_out import out_shown
from shop.worksheets.shown.rail import rail
from shop.worksheets.shown.supposed import SupposedShown
from shop.worksheets.whatif import suppose
from shop.worksheets.wording.said import Said, listed

DRAWN = ("buzz", "cents", "window")
ASKED_TOO = {"nut_gap"}  # nobody has to read it as received, and without it no slot can be planned


@dataclass(frozen=True)
class Offer:
    """A warning with the work that would help: the price list's best match, or the line that stands already."""

    warned: object
    work: str
    text: str
    best: object  # a PriceItem, or None
    line: object  # the order's line, once it was offered
    problem: str = ""
    typed: str = ""


@dataclass(frozen=True)
class Lacks:
    step: object
    what: str


class PlanPage:
    """One worksheet thought through. `form` says what to suppose; `problems` maps a work to why it was not offered."""

    is_plan = True  # for the rail, which stands beside this page too

    def __init__(self, worksheet, form, *, unit, may_offer=False, problems=None, typed=None):
        self.worksheet, self.form, self.said = worksheet, form, Said(unit)
        self.may_offer = may_offer and not worksheet.is_signed
        self.problems, self.typed = problems or {}, typed or {}

    @cached_property
    def sheet(self):
        """As it stands."""
        return Sheet.load(self.worksheet)

    @cached_property
    def mirrored(self):
        return self.worksheet.order.instrument.hand == Hand.LEFT

    @cached_property
    def evaluation(self):
        return evaluate_sheet(self.planned_from, unit=self.said.unit)

    @cached_property
    def rail(self):
        return rail(evaluate_sheet(self.sheet, unit=self.said.unit))

    @property
    def done_count(self):
        return sum(1 for one in self.rail if one.state in ("done", "skipped"))

    @cached_property
    def supposed(self):
        if not self.form.asks or self.sheet.family is None or not self.sheet.strings:
            return None
        return SupposedShown(suppose(self.sheet, self.form.change(), said=self.said), self.sheet, self.said)

    @property
    def supposing(self):
        """What is supposed, in words."""
        chosen = [(one.label, dict(one.field.choices).get(one.value())) for one in self.form if one.value()]
        return listed(f"{label[:1].lower()}{label[1:]} {choice}" for label, choice in chosen)

    @cached_property
    def planned_from(self):
        return self.supposed.sheet if self.supposed else self.sheet

    @cached_property
    def plan(self):
        sheet = self.planned_from
        if sheet.family is None or not sheet.strings:
            return Plan(sheet, (), (), sheet)
        return plan_of(sheet, unit=self.said.unit)

    @cached_property
    def moves(self):
        return moves_shown(self.plan, self.said)

    @cached_property
    def ends(self):
        return ends_shown(self.plan, self.said) if self.plan.before.family else []

    @cached_property
    def out(self):
        return out_shown(self.evaluation.findings, self.said, self.planned_from.numbers)

    @cached_property
    def lacks(self):
        """What has not been read as received, a line a reading."""
        sheet, found = self.planned_from, {}
        for place in sheet.places if sheet.family else ():
            asked = place.required or place.key in ASKED_TOO
            if asked and place.stage == RECEIVED and place.field.is_number and not sheet.now(place.key, place.string):
                found.setdefault(place.key, (place, []))[1].append(place.string)
        return [Lacks(sheet.family.step(place.step), _lacking(place, strings)) for place, strings in found.values()]

    @property
    def is_empty(self):
        """Nothing at all has been read that a plan could be made from."""
        return not self.ends

    @cached_property
    def offers(self):
        lines = {one.text: one for one in self.worksheet.order.lines.all()}
        items = self.items if any(one.work for one in self.plan.warned) else []
        return [self._offer(one, lines, items) for one in self.plan.warned]

    def _offer(self, warned, lines, items):
        if not warned.work:
            return Offer(warned, "", "", None, None)
        work = WORK[warned.work]
        best = next((one for word in work.known_by for one in items if word in one.name.casefold()), None)
        line = lines.get(work.text) or lines.get(best.name if best else "")
        return Offer(warned, warned.work, work.text, best, line, self.problems.get(warned.work, ""),
                     self.typed.get(warned.work, ""))  # fmt: skip

    @cached_property
    def items(self):
        return PriceItem.objects.offered().as_listed()

    @cached_property
    def drawings(self):
        """As it stands, and as it should be: the same field twice."""
        found = []
        start, end = (numbers_of(Bench(one, self.said), DRAWN) for one in (self.plan.before, self.plan.end))
        for draw in (buzz_field, cents_field):
            pair = [("As it stands", draw(start, mirrored=self.mirrored, said=self.said, name=f"{draw.__name__}-now"))]
            if self.plan.moves:
                pair.append(
                    ("After the plan", draw(end, mirrored=self.mirrored, said=self.said, name=f"{draw.__name__}-end"))
                )
            if pair[0][1].svg:
                found += pair
        window = stud_window(start, said=self.said)
        return found + ([("As it stands", window)] if window.svg else [])


def _lacking(place, strings):
    named = [one for one in strings if one is not None]
    return place.field.label + (f", string{'s' if len(named) > 1 else ''} {listed(named)}" if named else "")

