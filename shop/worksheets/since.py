"""What has changed since the instrument was left here: the drift of every reading, and the room then and now."""

import math
from dataclasses import dataclass

from geometry.uncertainty import COVERAGE
from shop.worksheets import queries
from shop.worksheets.compare import Row, rows_of
from shop.worksheets.families.parts import RECEIVED
from shop.worksheets.judging import source_of

AIR = ("season", "humidity", "temperature")


@dataclass(frozen=True)
class Drift:
    """One reading as it was left and as it came back. `is_steady`: no further apart than two readings may be."""

    row: Row
    is_steady: bool

    @property
    def change(self):
        return self.row.drift


@dataclass(frozen=True)
class Since:
    """`drifts` in the order of the steps; `air` are (key, what was noted then, what is noted now), texts or None."""

    at: object
    worksheet_id: int
    drifts: tuple
    air: tuple

    @property
    def moved(self):
        return tuple(one for one in self.drifts if not one.is_steady)


def since_last(sheet, last_left):
    """The Since of a sheet, or None when the instrument was never left here.

    `last_left` maps (key, string) to a LeftValue, as `queries.last_left`. One query: the room of the last visit.
    """
    if not last_left:
        return None
    last = next(iter(last_left.values()))
    rows = rows_of(sheet.only(RECEIVED), last_left={place: one.value for place, one in last_left.items()})
    came = sheet.only(RECEIVED)
    drifts = tuple(Drift(row, _is_steady(came, row)) for row in rows if row.drift is not None and row.key not in AIR)
    return Since(last.at, last.worksheet_id, drifts, _air(sheet, queries.noted(last.worksheet_id, AIR)))


def _is_steady(came, row):
    """Two readings of one thing with the same gauge differ by up to k·√2·u though nothing has moved (GUM 5.1.2)."""
    (source,) = source_of(came, row.key, row.string) or (None,)
    return source is not None and abs(row.drift) <= COVERAGE * math.sqrt(2.0) * source.share


def _air(sheet, then):
    found = []
    for key in AIR:
        now = sheet.now(key)
        before, after = then.get(key), now.raw if now else None
        if before or after:
            found.append((key, before, after))
    return tuple(found)
