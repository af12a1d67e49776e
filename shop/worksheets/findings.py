"""What an evaluation says: findings, and the numbers that the drawings are made from."""

from dataclasses import dataclass, field
from functools import cached_property

IN_RANGE = "in_range"
OUT_OF_RANGE = "out_of_range"
TOO_CLOSE = "too_close"  # the gauge cannot tell
MISSING = "missing"  # a reading is not there
CANNOT = "cannot"  # it cannot be worked out; the headline says what it needs
STATED = "stated"  # a number without a target, such as the strings' whole load
VERDICTS = (IN_RANGE, OUT_OF_RANGE, TOO_CLOSE, MISSING, CANNOT, STATED)
NEED_ACCEPTANCE = (OUT_OF_RANGE, TOO_CLOSE, MISSING)


@dataclass(frozen=True)
class Finding:
    """One judgement of one check, in words.

    `key` is the check, and its string after a colon where there is one: 'relief', 'height_12:6'. `value`,
    `uncertainty` (expanded, k = 2), `low` and `high` are in `unit`. `headline` says what is wrong and by how much,
    `why` why it matters, `move` what to turn, which way and how far (empty when nothing), `settle` which gauge would
    settle a close one. `assumed` are labels of specification values that nobody has measured yet.
    """

    key: str
    step: str
    string: int | None
    check: str
    verdict: str
    headline: str
    value: float | None = None
    uncertainty: float | None = None
    low: float | None = None
    high: float | None = None
    unit: str = "mm"
    why: str = ""
    move: str = ""
    settle: str = ""
    assumed: tuple = ()
    accepted: object = None  # the Acceptance that covers it, if any
    waived: str = ""  # the reason for which its step was skipped, if it is only missing
    blocks: bool = True  # False for one that says how to mend what other findings already stand for

    @property
    def is_open(self):
        """Whether it keeps the worksheet from being signed."""
        return self.blocks and self.verdict in NEED_ACCEPTANCE and self.accepted is None and not self.waived


def no_numbers(parts=None):
    return {}


@dataclass(frozen=True)
class Evaluation:
    """Every finding of a worksheet. `numbers` for the drawings are worked out when they are asked for."""

    findings: tuple = ()
    by_step: dict = field(default_factory=dict)  # step key → findings to show there
    sheet: object = None  # the Sheet that it was made from: readings, marks, targets
    make_numbers: object = no_numbers  # called with `parts` for some of them

    @cached_property
    def numbers(self):
        """Plain lists and floats, JSON-ready; `numbers.numbers_of` says which."""
        return self.make_numbers()

    def numbers_for(self, parts):
        """The same, no more than what `parts` need."""
        return self.make_numbers(parts=parts)

    def finding(self, key):
        return next((one for one in self.findings if one.key == key), None)

    @property
    def open_findings(self):
        return tuple(one for one in self.findings if one.is_open)
