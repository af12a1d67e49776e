"""Verdicts as people see them: a word, and a mark that the style sheet draws; never a colour alone."""

from dataclasses import dataclass

from shop.worksheets import findings as f


@dataclass(frozen=True)
class Shown:
    css: str
    word: str

    @property
    def brief(self):
        """The word where there is little room."""
        return self.word.removesuffix(" to call")

    @property
    def tiny(self):
        """Half a word, for a cell among many: 'in', 'out', 'close'."""
        return self.word.removesuffix(" to call").removeprefix("too ").removesuffix(" of range").removesuffix(" range")


VERDICTS = {
    f.IN_RANGE: Shown("fine", "in range"),
    f.OUT_OF_RANGE: Shown("amiss", "out of range"),
    f.TOO_CLOSE: Shown("close", "too close to call"),
    f.MISSING: Shown("missing", "not read yet"),
    f.CANNOT: Shown("missing", "cannot be worked out"),
    f.STATED: Shown("stated", "for the record"),
}
ACCEPTED = Shown("accepted", "accepted")
LEFT_OUT = Shown("missing", "left out")


def shown(finding):
    if finding.accepted is not None:
        return ACCEPTED
    if finding.waived:
        return LEFT_OUT
    return VERDICTS[finding.verdict]


@dataclass(frozen=True)
class FindingsShown:
    """The findings of one step, sorted by what a reader needs first. Readings still to take are said in one line."""

    open: tuple  # to mend or to accept
    accepted: tuple
    cannot: tuple
    fine: tuple
    stated: tuple
    missing: tuple

    @classmethod
    def of(cls, findings):
        missing = tuple(one for one in findings if one.verdict == f.MISSING and one.accepted is None)
        kept = [one for one in findings if one not in missing]

        def having(*verdicts):
            return tuple(one for one in kept if one.verdict in verdicts and one.accepted is None)

        return cls(
            open=having(f.OUT_OF_RANGE, f.TOO_CLOSE),
            accepted=tuple(one for one in kept if one.accepted is not None),
            cannot=having(f.CANNOT),
            fine=having(f.IN_RANGE),
            stated=having(f.STATED),
            missing=missing,
        )

    @property
    def is_long(self):
        return len(self.open) > 3

    @property
    def missing_open(self):
        return tuple(one for one in self.missing if not one.waived)

    @property
    def fine_assumed(self):
        """What those in range rest on that nobody has measured: said once for all of them."""
        return tuple(dict.fromkeys(label for one in self.fine for label in one.assumed))

    def __bool__(self):
        return any((self.open, self.accepted, self.cannot, self.fine, self.stated, self.missing))
