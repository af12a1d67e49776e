"""The handover sheet's contents: what was asked, done and fitted, how it came and how it left, what to mind."""

from collections import Counter
from dataclasses import dataclass
from itertools import groupby

from shop.handover import explained
from shop.handover.pictures import Picture, picture_of
from shop.instruments.tunings import note_name
from shop.orders.models import Agreement
from shop.stock.models import ItemKind
from shop.worksheets.drawings import bridge_side, range_bar
from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE, TOO_CLOSE
from shop.worksheets.models import Worksheet
from shop.worksheets.wording.said import Said


@dataclass(frozen=True)
class Reading:
    """One row: what was read, as received and as left, against its target; `bar` is the small drawing of it."""

    what: str
    change: str  # `0.45 → 0.20 mm`; one value alone when it was read once
    target: str
    bar: Picture | None
    remark: str  # how it left, in words, when it did not leave in range
    is_outside: bool


@dataclass(frozen=True)
class ReadingGroup:
    heading: str
    says: str
    readings: tuple


@dataclass(frozen=True)
class OnPurpose:
    """A finding that somebody accepted by name."""

    headline: str
    reason: str
    by: str


@dataclass(frozen=True)
class Sheet:
    asked: str
    done: tuple
    fitted: tuple
    worksheet: Worksheet | None
    in_short: str  # what came of it, in a sentence or two
    groups: tuple
    on_purpose: tuple
    side: Picture | None  # the string at the bridge
    cautions: tuple

    @property
    def watch(self):
        return self.worksheet.watch if self.worksheet else ""

    @property
    def next_check_on(self):
        return self.worksheet.next_check_on if self.worksheet else None


def sheet_of(order, workshop):
    """The Sheet of `order`, from its newest signed worksheet if it has one. Three queries."""
    lines = [line for line in order.lines.all() if line.agreement == Agreement.AGREED]
    worksheet = order.worksheets.filter(signed_at__isnull=False).select_related("signed_by").first()
    outcome = worksheet.outcome if worksheet else {}
    rows = [row for row in outcome.get("rows", []) if row["key"] not in explained.FOR_THE_BENCH]
    said = Said(workshop.length_unit)
    return Sheet(
        asked=order.complaint,
        done=tuple(line for line in lines if line.kind == ItemKind.WORK),
        fitted=tuple(line for line in lines if line.kind != ItemKind.WORK),
        worksheet=worksheet,
        in_short=in_short(rows),
        groups=tuple(groups_of(rows, worksheet, said)) if worksheet else (),
        on_purpose=tuple(on_purpose(outcome.get("findings", []))),
        side=picture_of(_side(outcome, said)),
        cautions=cautions_for(order.instrument),
    )


def in_short(rows):
    """How many readings were outside their targets as received and as left; '' where none has a target."""
    judged = [row for row in rows if row["left_verdict"]]
    if not judged:
        return ""
    came = Counter(row["received_verdict"] for row in judged)
    left = Counter(row["left_verdict"] for row in judged)
    said = [_that_came(came, len(judged)), _that_left(left, len(judged))]
    return " ".join(filter(None, said))


def _that_came(came, count):
    if set(came) == {""}:
        return ""  # nothing was read as it came
    outside = came[OUT_OF_RANGE]
    lay = "none lay" if not outside else "one lay" if outside == 1 else f"{outside} lay"
    return f"Of {count} readings that have a target, {lay} outside it when the instrument came."


def _that_left(left, count):
    if left[IN_RANGE] == count:
        return "Every reading is inside its target as it left."
    others = ((left[OUT_OF_RANGE], "outside"), (left[TOO_CLOSE], "too near a limit for the gauge to tell"))
    rest = " and ".join(f"{number} {where}" for number, where in others if number)
    return f"{left[IN_RANGE]} are inside as it left{f', {rest}' if rest else ''}."


def groups_of(rows, worksheet, said):
    """The rows of a worksheet's outcome under the headings that a player understands, in the order of the sheet."""
    headings = [explained.told(row["key"]) for row in rows]
    first_seen = {told: place for place, told in reversed(list(enumerate(headings)))}
    ordered = sorted(zip(headings, rows, strict=True), key=lambda pair: first_seen[pair[0]])
    for (heading, says), pairs in groupby(ordered, key=lambda pair: pair[0]):
        group = [row for _, row in pairs]
        scales = {key: _scale_of([row for row in group if row["key"] == key]) for key in {row["key"] for row in group}}
        yield ReadingGroup(heading, says, tuple(_reading(row, worksheet, said, scales[row["key"]]) for row in group))


def _scale_of(rows):
    """(least, greatest) of everything that is drawn of the same reading, for one scale from string to string."""
    values = [row[name] for row in rows for name in ("received", "left", "low", "high") if row[name] is not None]
    return (min(values), max(values)) if values else None


def _reading(row, worksheet, said, scale):
    return Reading(
        what=_what(row, worksheet),
        change=_change(row, said),
        target=_target(row, said),
        bar=_bar(row, said, scale),
        remark=explained.REMARKS.get(row["left_verdict"], ""),
        is_outside=row["left_verdict"] == OUT_OF_RANGE,
    )


def _bar(row, said, scale):
    """The small drawing; without a target there is nothing to draw it against."""
    if row["low"] is None and row["high"] is None:
        return None
    place = f"{row['key']}-{row['string'] or 0}"
    ends = {name: row[name] for name in ("received", "left", "low", "high", "unit")}
    return picture_of(range_bar(name=place, said=said, over=scale, **ends))


def _what(row, worksheet):
    if row["string"] is None:
        return row["label"][:1].upper() + row["label"][1:]
    notes = {string["number"]: note_name(string.get("midi")) for string in worksheet.strings}
    note = notes.get(row["string"], "").rstrip("-0123456789")
    return f"String {row['string']}{f', {note}' if note else ''}"


def _change(row, said):
    came, left = ("–" if row[name] is None else said.value(row[name], row["unit"]) for name in ("received", "left"))
    return f"{came} → {left}"


def _target(row, said):
    if row["low"] is None and row["high"] is None:
        return "–"
    words = said.range(row["low"], row["high"], row["unit"])
    return words.removeprefix("between ").replace(" and ", " to ")


def on_purpose(findings):
    for one in findings:
        if accepted := one.get("accepted"):
            yield OnPurpose(one["headline"], accepted["reason"], accepted["by"])


def _side(outcome, said):
    """The bridge from the side with the string that comes nearest to its rear edge; None when it was not read."""
    numbers = outcome.get("numbers") or {}
    if not numbers.get("side"):
        return None
    nearest = bridge_side(numbers, said=said).shown
    return bridge_side(numbers, said=said, only=nearest) if nearest is not None else None


def cautions_for(instrument):
    own = explained.AT_HOME_BY_FAMILY.get(instrument.family)
    return (*((own,) if own else ()), *explained.AT_HOME)
