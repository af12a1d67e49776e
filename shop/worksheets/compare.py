"""How it came against how it left, beside the targets and how it left last time."""

from dataclasses import asdict, dataclass, replace

from shop.worksheets import queries
from shop.worksheets.families.parts import BENCH, LEFT, NUMBERS, RECEIVED
from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE
from shop.worksheets.judging import Claim, judge_all, source_of
from shop.worksheets.sheet import Sheet


@dataclass(frozen=True)
class Row:
    """One reading over the visit, in `unit`. `left_at` says where the last value is from: 'left', 'bench' or ''.

    `received_verdict` and `left_verdict` are verdicts of findings, or '' without a target. `last_left` is how it was
    left on the visit before; `drift` is received minus that.
    """

    key: str
    label: str
    string: int | None
    unit: str
    received: float | None
    left: float | None
    left_at: str
    low: float | None
    high: float | None
    received_verdict: str = ""
    left_verdict: str = ""
    last_left: float | None = None

    @property
    def drift(self):
        return None if self.received is None or self.last_left is None else self.received - self.last_left

    @property
    def mended(self):
        return self.received_verdict == OUT_OF_RANGE and self.left_verdict == IN_RANGE

    def as_json(self):
        return asdict(self) | {"drift": self.drift, "mended": self.mended}


def compare(worksheet):
    """Rows of every reading that was taken as received or as left, in the order of the steps."""
    # The history of the instrument is read here and nowhere else, so that rows_of stays free of the database.
    from_last = queries.last_left(worksheet.order.instrument, before=worksheet)
    return rows_of(Sheet.load(worksheet), last_left={place: one.value for place, one in from_last.items()})


def rows_of(sheet, *, last_left=None):
    """The rows from plain data. `last_left` maps (key, string) to a value."""
    fields = {}
    for place in sheet.places:
        if place.field.unit in NUMBERS:
            fields.setdefault((place.key, place.string), place.field)
    came, went = sheet.only(RECEIVED), sheet.only(BENCH, LEFT)
    rows = [_row(sheet, came, went, field, string, last_left or {}) for (_, string), field in fields.items()]
    return _with_verdicts([row for row in rows if row.received is not None or row.left is not None], came, went)


def _row(sheet, came, went, field, string, last_left):
    low, high = sheet.target(field.target_key, string) if field.target_key else (None, None)
    done = went.now(field.key, string)
    return Row(
        key=field.key, label=field.label, string=string, unit=field.unit, received=came.value(field.key, string),
        left=went.value(field.key, string), left_at=done.stage if done else "", low=low, high=high,
        last_left=last_left.get((field.key, string)),
    )  # fmt: skip


def _with_verdicts(rows, came, went):
    judged = {}
    for name, side in (("received", came), ("left", went)):
        read = [row for row in rows if getattr(row, name) is not None]
        claims = [Claim(getattr(row, name), row.low, row.high, source_of(side, row.key, row.string)) for row in read]
        verdicts = judge_all(claims, rule=came.rule)
        judged |= {(name, row.key, row.string): one.verdict for row, one in zip(read, verdicts, strict=True)}
    return [
        replace(row, received_verdict=judged.get(("received", row.key, row.string), ""),
                left_verdict=judged.get(("left", row.key, row.string), ""))
        for row in rows
    ]  # fmt: skip
