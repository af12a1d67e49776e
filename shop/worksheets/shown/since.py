"""What has changed since last time, in words and small drawings."""

from dataclasses import dataclass

from shop.lib.dates import days_ago
from shop.worksheets.drawings.drift import drift_bar
from shop.worksheets.shown.short import short
from shop.worksheets.wording.said import signed

NOTED = {"season": "season and room", "humidity": "air humidity", "temperature": "air temperature"}
UNITS = {"humidity": " %", "temperature": " °C"}
MONTH = 30.44  # days


@dataclass(frozen=True)
class DriftShown:
    label: str
    string: int | None
    left: str
    now: str
    change: str
    is_steady: bool
    bar: object


@dataclass(frozen=True)
class SinceShown:
    at: object
    worksheet_id: int
    ago: str
    moved: tuple  # what has changed by more than its gauge can be off, of each reading the string that went furthest
    others: tuple  # the other strings of these
    steady: tuple
    air: tuple  # (label, then, now)

    @classmethod
    def of(cls, since, said):
        """None for an instrument that was never left here."""
        if since is None:
            return None
        rows = [_drift(number, one, said) for number, one in enumerate(since.drifts)]
        furthest = _furthest(since.moved)
        moved = [row for row, one in zip(rows, since.drifts, strict=True) if one in furthest]
        return cls(
            since.at, since.worksheet_id, ago(since.at),
            tuple(moved), tuple(one for one in rows if not one.is_steady and one not in moved),
            tuple(one for one in rows if one.is_steady),
            tuple((NOTED[key], _noted(key, then), _noted(key, now)) for key, then, now in since.air),
        )  # fmt: skip

    @property
    def is_read(self):
        return bool(self.moved or self.steady)


def _furthest(drifts):
    """Of each reading the one that has moved most."""
    found = {}
    for one in drifts:
        known = found.get(one.row.key)
        if known is None or abs(one.change) > abs(known.change):
            found[one.row.key] = one
    return list(found.values())


def _drift(number, drift, said):
    row = drift.row
    bar = drift_bar(name=str(number), left=row.last_left, now=row.received, low=row.low, high=row.high, unit=row.unit,
                    said=said)  # fmt: skip
    return DriftShown(
        row.label, row.string, short(said, row.last_left, row.unit), short(said, row.received, row.unit),
        signed(said, row.drift, row.unit), drift.is_steady, bar,
    )  # fmt: skip


def _noted(key, text):
    if not text:
        return "not noted"
    unit = UNITS.get(key, "")
    return f"{text}{unit}" if text[-1:].isdigit() else text


def ago(then):
    """`earlier today`, `3 days ago`, `7 weeks ago`, `8 months ago`, `2 years ago`, by the calendar on the wall."""
    days = days_ago(then)
    if days <= 0:
        return "earlier today"
    for most, length, word in ((21, 1, "day"), (70, 7, "week"), (700, MONTH, "month")):
        if days < most:
            return _counted(round(days / length), word)
    return _counted(round(days / 365.25), "year")


def _counted(count, word):
    return f"{count} {word}{'' if count == 1 else 's'} ago"
