"""What edited targets would have judged, for the owner to read before saving."""

from dataclasses import dataclass

from shop.worksheets import findings as f
from shop.worksheets.shown.verdicts import VERDICTS
from shop.worksheets.wording.said import Said

LABELS = {
    "relief": "relief", "height_12": "height at 12", "nut_gap": "nut slots", "arch": "arch",
    "break_angle": "break angle", "edge_clearance": "rear edge", "stud_difference": "studs", "octave": "octave",
}  # fmt: skip
COLUMNS = (f.IN_RANGE, f.TOO_CLOSE, f.OUT_OF_RANGE)
MOST_ROWS = 40


@dataclass(frozen=True)
class CountRow:
    label: str
    cells: tuple  # (before, after, whether they differ) by column


@dataclass(frozen=True)
class ForetoldShown:
    sheets: int
    values: int
    heads: tuple
    counts: tuple
    changes: tuple  # (the change, its value in words, verdict before, verdict after)
    more: int
    turned: int

    @classmethod
    def of(cls, found, said: Said):
        counts = tuple(_row(check, *pair) for check, pair in found.counts.items())
        changes = tuple(_change(one, said) for one in found.changes[:MOST_ROWS])
        heads = tuple(VERDICTS[one] for one in COLUMNS)
        return cls(found.sheets, found.values, heads, counts, changes, len(found.changes) - len(changes),
                   len(found.changes))  # fmt: skip


def _row(check, before, after):
    pairs = ((before.get(one, 0), after.get(one, 0)) for one in COLUMNS)
    return CountRow(LABELS[check], tuple((first, last, first != last) for first, last in pairs))


def _change(one, said):
    label = LABELS[one.check] + (f", string {one.string}" if one.string else "")
    return one, label, said.value(one.value, one.unit), VERDICTS.get(one.before), VERDICTS.get(one.after)
