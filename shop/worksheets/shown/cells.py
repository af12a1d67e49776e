"""The fields of one step, as a template prints them: cells, and the groups in which they are read."""

from dataclasses import dataclass
from functools import cached_property

from shop.worksheets.families.parts import YES_NO
from shop.worksheets.shown.typed import place_id

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
