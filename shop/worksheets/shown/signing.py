"""The whole sheet at once: how it came against how it left, and what stands between it and a signature."""

from dataclasses import dataclass
from datetime import timedelta
from functools import cached_property

from shop.lib.dates import today
from shop.worksheets.compare import compare
from shop.worksheets.drawings import drawing_of, range_bar
from shop.worksheets.evaluation import evaluate
from shop.worksheets.findings import MISSING
from shop.worksheets.services.signing import reasons_against
from shop.worksheets.shown import times
from shop.worksheets.shown.rail import rail
from shop.worksheets.shown.short import short, short_range, unit_words
from shop.worksheets.shown.verdicts import VERDICTS
from shop.worksheets.wording.said import Said

USUAL_NEXT_CHECK = timedelta(days=365)


@dataclass(frozen=True)
class CompareRow:
    row: object
    received: str
    left: str
    target: str
    last_left: str
    received_verdict: object
    left_verdict: object
    bar: object


@dataclass(frozen=True)
class CompareTable:
    """The rows of one kind of reading, or of all that are read once for the whole instrument."""

    label: str
    unit: str
    by_string: bool
    rows: tuple


class WholeSheet:
    """A worksheet evaluated once for a page of its own."""

    def __init__(self, worksheet, *, unit):
        self.worksheet, self.said = worksheet, Said(unit)

    @cached_property
    def evaluation(self):
        return evaluate(self.worksheet, unit=self.said.unit)

    @cached_property
    def rail(self):
        return rail(self.evaluation)

    @property
    def done_count(self):
        return sum(1 for one in self.rail if one.state in ("done", "skipped"))


class ComparePage(WholeSheet):
    @cached_property
    def tables(self):
        tables = {}
        for count, row in enumerate(compare(self.worksheet)):
            name = row.key if row.string else f"once, {row.unit}"
            tables.setdefault(name, []).append(self._row(row, count))
        return [self._table(rows) for rows in tables.values()]

    def _table(self, rows):
        first = rows[0].row
        label = first.label if first.string or len(rows) == 1 else "Read once"
        return CompareTable(label, unit_words(first.unit, self.said), first.string is not None, tuple(rows))

    def _row(self, row, count):
        say = lambda value: "" if value is None else short(self.said, value, row.unit)  # noqa: E731
        bar = range_bar(name=str(count), received=row.received, left=row.left, low=row.low, high=row.high,
                        unit=row.unit, said=self.said)  # fmt: skip
        return CompareRow(
            row, say(row.received), say(row.left), short_range(self.said, row.low, row.high, row.unit),
            say(row.last_left), VERDICTS.get(row.received_verdict), VERDICTS.get(row.left_verdict), bar,
        )  # fmt: skip

    @cached_property
    def times(self):
        """([(step, its time)], the whole)."""
        return times.rows(self.worksheet)

    @cached_property
    def drawings(self):
        """The drawings that the family has, as it stands now."""
        names = dict.fromkeys(name for step in self.evaluation.sheet.family.steps for name in step.drawings)
        made = [drawing_of(name, self.evaluation.numbers, said=self.said) for name in names]
        return [one for one in made if one is not None and one.svg]

    @cached_property
    def accepted(self):
        return [one for one in self.evaluation.findings if one.accepted is not None]


class SignPage(WholeSheet):
    """Everything that is open, with what to do about it. `reasons` are those of a sign-off that was just refused."""

    def __init__(self, worksheet, *, unit, reasons=(), problems=None, typed=None):
        super().__init__(worksheet, unit=unit)
        self.refused, self.problems, self.typed = list(reasons), problems or {}, typed or {}

    @cached_property
    def open_steps(self):
        return [one for one in self.rail if one.state in ("open", "stale")]

    @cached_property
    def open_by_step(self):
        """[(the step, its findings out of range, its readings not taken)], in the order of the steps."""
        found = self.evaluation.open_findings
        parts = [(step, [one for one in found if one.step == step.key]) for step in self.rail]
        return [
            (step, [one for one in mine if one.verdict != MISSING], [one for one in mine if one.verdict == MISSING])
            for step, mine in parts if mine
        ]  # fmt: skip

    @cached_property
    def rivals(self):
        return self.evaluation.sheet.all_rivals

    @cached_property
    def accepted(self):
        return [one for one in self.evaluation.findings if one.accepted is not None]

    @cached_property
    def reasons(self):
        """Why it cannot be signed as it stands now; empty when it can."""
        return reasons_against(self.worksheet, self.evaluation)

    @property
    def initial(self):
        """What the form begins with: what was written before and is not past, or a check in a year."""
        known = self.worksheet.next_check_on
        still = known if known and known >= today() else today() + USUAL_NEXT_CHECK
        return {"watch": self.worksheet.watch, "next_check_on": still}
