"""How it came against how it left, beside the targets and how it left last time."""

from dataclasses import asdict, dataclass

from shop.worksheets import queries
from shop.worksheets.families.parts import BENCH, LEFT, NUMBERS, RECEIVED
from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE
from shop.worksheets.gauges import gauge_for
from shop.worksheets.sheet import Sheet
from shop.worksheets.uncertainty import expanded, verdict_of


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
        return asdict(self)


def compare(worksheet):
    """Rows of every reading that was taken as received or as left, in the order of the steps."""
    # The history of the instrument is read here and nowhere else, so that rows_of stays free of the database.
    from_last = queries.last_left(worksheet.order.instrument, before=worksheet)
    return rows_of(Sheet.load(worksheet), last_left={place: one.value for place, one in from_last.items()})


def rows_of(sheet, *, last_left=None):
    """The rows from plain data. `last_left` maps (key, string) to a value."""
    seen = {}
    for place in sheet.places:
        if place.field.unit in NUMBERS and (place.key, place.string) not in seen:
            seen[place.key, place.string] = _row(sheet, place, last_left or {})
    return [row for row in seen.values() if row.received is not None or row.left is not None]


def _row(sheet, place, last_left):
    received, done = sheet.only(RECEIVED), sheet.only(BENCH, LEFT)
    low, high = sheet.target(place.field.target_key, place.string) if place.field.target_key else (None, None)
    came, went = received.now(place.key, place.string), done.now(place.key, place.string)
    return Row(
        key=place.key, label=place.field.label, string=place.string, unit=place.field.unit,
        received=came.value if came else None, left=went.value if went else None,
        left_at=went.stage if went else "", low=low, high=high,
        received_verdict=_verdict(came, place.field, low, high), left_verdict=_verdict(went, place.field, low, high),
        last_left=last_left.get((place.key, place.string)),
    )  # fmt: skip


def _verdict(reading, field, low, high):
    if reading is None or reading.value is None or (low is None and high is None):
        return ""
    gauge = gauge_for(reading.gauge, field)
    return verdict_of(reading.value, low, high, expanded(gauge.resolution) if gauge else 0.0)
