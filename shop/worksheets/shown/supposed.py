"""What would change: pull, relief, octaves and set-backs, before and after, a row a string."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from shop.instruments.tunings import note_name
from shop.worksheets.checks.bench import Bench
from shop.worksheets.checks.studs import stud_window
from shop.worksheets.shown.short import UNIT_WORDS, short
from shop.worksheets.wording import whatif as words
from shop.worksheets.wording.said import cents


@dataclass(frozen=True)
class SupposedRow:
    number: int
    was: str  # note and gauge
    now: str
    pull_was: str
    pull: str
    octave: str
    setback_was: str
    setback: str


class SupposedShown:
    def __init__(self, supposed, sheet, said):
        self.supposed, self.before, self.said = supposed, sheet, said
        self.sheet = supposed.sheet

    @cached_property
    def rows(self):
        found = self.supposed
        return [
            SupposedRow(
                number, self._string(self.before.strings[i]), self._string(self.sheet.strings[i]),
                _newtons(found.tension_before[i]), _newtons(found.tension[i]), _cents(found.octave[i]),
                self._between(found.setback_before[i]), self._between(found.setback[i]),
            )
            for i, number in enumerate(self.before.numbers)
        ]  # fmt: skip

    def _string(self, one):
        gauge = self.said.length(one["diameter_mm"]) if one.get("diameter_mm") else "gauge not known"
        return f"{note_name(one.get('midi')) or 'note not known'}, {gauge}"

    def _between(self, pair):
        low, high = (short(self.said, float(one), "mm") if np.isfinite(one) else "" for one in pair)
        return f"{low} to {high}" if low and high else ""

    @property
    def length_words(self):
        return UNIT_WORDS[self.said.unit]

    @property
    def load(self):
        return words.load(self.supposed.total_before, self.supposed.total)

    @property
    def relief(self):
        return words.relief(self.said, self.supposed)

    @cached_property
    def window(self):
        """The stud window as it is and as it would be; '' where the family has none."""
        pair = [_window(Bench(one, self.said)) for one in (self.before, self.sheet)]
        return words.window(*pair) if all(pair) else ""


def _window(bench):
    found = stud_window(bench) if bench.has_check("stud_window") and bench.part("window") else []
    return found[0].headline if found else ""


def _newtons(value):
    return f"{value:.0f}" if np.isfinite(value) else ""


def _cents(value):
    return cents(float(value)).removesuffix(" cents") if np.isfinite(value) else ""
