"""Worksheets, their readings and what was decided about them."""

from shop.worksheets.models.ranges import BenchRules, Rule, TargetProfile, TargetRange, Taste
from shop.worksheets.models.readings import Reading, Stage, Standing
from shop.worksheets.models.rechecks import Recheck
from shop.worksheets.models.sheets import Worksheet
from shop.worksheets.models.steps import Acceptance, StepMark, StepNote
from shop.worksheets.models.times import TimeByHand, WorkSpan

__all__ = [
    "Acceptance", "BenchRules", "Reading", "Recheck", "Rule", "Stage", "Standing", "StepMark", "StepNote",
    "TargetProfile", "TargetRange", "Taste", "TimeByHand", "WorkSpan", "Worksheet",
]  # fmt: skip
