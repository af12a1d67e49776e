"""What the checks share: the sheet, how figures are said, and the parts of the model, each worked out once."""

from functools import cached_property

import numpy as np

from geometry.errors import GeometryError
from shop.worksheets.checks.claims import CLAIMS
from shop.worksheets.judging import judge_all
from shop.worksheets.model.ends import ends_of
from shop.worksheets.model.fretted import buzz_of, fretted_of
from shop.worksheets.model.heights import heights_of, slot_per_gap
from shop.worksheets.model.lacking import Lacking, label
from shop.worksheets.model.layout import layout_of
from shop.worksheets.model.load import load_of
from shop.worksheets.model.octave import octaves_of, saddles_of
from shop.worksheets.model.posts import arch_of, posts_for
from shop.worksheets.model.tail import tail_of
from shop.worksheets.model.window import bounds_of, window_of
from shop.worksheets.together import alone, together

DO_NOT_FIT = "These figures do not fit together; look at the instrument's record and the readings again."


REFUSALS = (Lacking, GeometryError, ArithmeticError)


def why(refused):
    """A sentence that says why a part cannot be worked out."""
    return str(refused) if isinstance(refused, Lacking) else DO_NOT_FIT


class Bench:
    """One sheet on the bench. `said` says figures; `strings_before` are the strings of the visit before, or None."""

    def __init__(self, sheet, said, strings_before=None):
        self.sheet, self.said, self.strings_before = sheet, said, strings_before
        self.why_not = {}
        self._parts = {}
        self._judged = None

    def part(self, name):
        """A part of the model, or None; then `why_not[name]` is a sentence that says what it needs."""
        if name not in self._parts:
            self._parts[name] = self._built(name)
        return self._parts[name]

    def _built(self, name):
        try:
            return alone(self._begun(name))
        except REFUSALS as refused:
            self.why_not[name] = why(refused)
        return None

    def _begun(self, name):
        """The part's generator, its needs built. Lacking where one of them is not to be had."""
        build, needs = PARTS[name]
        given = [self.part(need) for need in needs]
        for need, one in zip(needs, given, strict=True):
            if one is None:
                raise Lacking(self.why_not[need])
        return build(self, *given)

    @staticmethod
    def build_together(benches, names):
        """Build these parts of many sheets, each part of all sheets in one pass over arrays."""
        for name in names:
            begun = []
            for bench in benches:
                if name in bench._parts or not bench.may_need(name):
                    continue
                try:
                    steps = bench._begun(name)
                except REFUSALS as refused:
                    bench._parts[name], bench.why_not[name] = None, why(refused)
                else:
                    begun.append((bench, steps))
            answers = together([steps for _, steps in begun], refusals=REFUSALS)
            for (bench, _), (part, refused) in zip(begun, answers, strict=True):
                bench._parts[name] = part
                if refused:
                    bench.why_not[name] = why(refused)

    def may_need(self, name):
        """Whether a check of this family asks for the part."""
        return name not in ASKED_BY or any(map(self.has_check, ASKED_BY[name]))

    def judged(self, check):
        """{string or None: Judged} of one check, {} where the family has it not. All are judged together, once."""
        if self._judged is None:
            self.take(judge_all([claim for _, _, claim in self.claims], rule=self.sheet.rule))
        return self._judged.get(check, {})

    @cached_property
    def claims(self):
        """[(check, string, Claim)]: every value of the sheet that is judged against a range."""
        return [
            (check, string, claim)
            for check, gather in CLAIMS.items()
            if self.has_check(check)
            for string, claim in self._gathered(gather).items()
        ]

    def take(self, judgements):
        """The judgements of its claims, where somebody has judged them together with those of other sheets."""
        self._judged = {}
        for (check, string, _), one in zip(self.claims, judgements, strict=True):
            self._judged.setdefault(check, {})[string] = one

    def _gathered(self, gather):
        try:
            return gather(self)
        except (GeometryError, ArithmeticError):
            return {}  # the check itself says that the figures do not fit

    def not_fine(self, check):
        """Per string, whether its value is anything but in range."""
        judged = self.judged(check)
        return np.array([number in judged and not judged[number].is_fine for number in self.sheet.numbers])

    def has_check(self, check):
        return check in self.sheet.family.steps_of_checks

    def step_of(self, check):
        """The step on which a check's finding is mended, '' when the family has no such check."""
        return self.sheet.family.home_of_checks.get(check, "")

    def assumed(self, *keys):
        """Labels of those specification values that nobody has measured yet."""
        return tuple(label(key) for key in keys if self.sheet.is_assumed(key))


# Name → (how it is built, the parts that it needs).
PARTS = {
    "layout": (lambda bench: layout_of.steps(bench.sheet), ()),
    "load": (lambda bench, layout: load_of.steps(bench.sheet, layout.scale, bench.strings_before), ("layout",)),
    "heights": (lambda bench, layout: heights_of.steps(bench.sheet, layout), ("layout",)),
    "tail": (lambda bench, layout, heights: tail_of.steps(bench.sheet, layout, heights), ("layout", "heights")),
    # Without known strings only the holding force goes unasked: the load may be missing.
    "bounds": (
        lambda bench, layout, tail: bounds_of.steps(bench.sheet, layout, tail, bench.part("load")), ("layout", "tail")
    ),
    "window": (lambda bench, tail, bounds: window_of.steps(bench.sheet, tail, bounds), ("tail", "bounds")),
    "octave": (lambda bench, layout: octaves_of.steps(bench.sheet, layout), ("layout",)),
    "ends": (lambda bench, layout, octaves: ends_of.steps(bench.sheet, layout, octaves), ("layout", "octave")),
    "saddles": (lambda bench: saddles_of.steps(bench.sheet, bench.part("octave"), bench.not_fine("octave")), ()),
    "buzz": (lambda bench, layout, heights, load: buzz_of(layout, heights, load), ("layout", "heights", "load")),
    "fretted": (
        lambda bench, *parts: fretted_of(bench.sheet, *parts), ("layout", "heights", "load", "octave")
    ),
    "posts": (
        lambda bench, layout, heights: posts_for.steps(bench.sheet, layout, heights, bench.not_fine("height_12")),
        ("layout", "heights"),
    ),
    "slot": (lambda bench, layout: slot_per_gap.steps(layout), ("layout",)),
    "arch": (lambda bench, layout, heights: arch_of.steps(bench.sheet, layout, heights), ("layout", "heights")),
}
# What every value that is judged rests on, and what only moves rest on, which are known once values are judged.
JUDGED_PARTS = ("layout", "load", "heights", "tail", "bounds", "window", "octave", "ends", "arch")
MOVING_PARTS = ("saddles", "posts", "slot")
ASKED_BY = {
    "tail": ("break_angle", "edge_clearance"), "bounds": ("break_angle", "edge_clearance"),
    "window": ("stud_window", "stud_difference"), "octave": ("octave",), "ends": ("octave",), "arch": ("arch",),
    "saddles": ("saddle_travel", "saddle_direction"), "posts": ("height_12",), "slot": ("nut_gap",),
}  # fmt: skip
