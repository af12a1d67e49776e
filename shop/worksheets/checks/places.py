"""Readings that the worksheet needs and does not have."""

from shop.worksheets.families.parts import BENCH, LEFT, RECEIVED
from shop.worksheets.findings import MISSING, Finding

WHEN = {RECEIVED: "as received", LEFT: "as left"}
WHY = {
    RECEIVED: "Without it nobody can say later how the instrument came.",
    LEFT: "It goes on the handover sheet, and next year begins from it.",
    BENCH: "The worksheet is signed on this reading.",
}


def required_readings(bench):
    """A finding for each required place without a reading: 'received.relief', 'left.octave:3', 'nut_gap:2'.

    A reading at the bench is asked for only when none of any stage is there.
    """
    return [_missing(place) for place in bench.sheet.places if place.required and not _is_there(bench.sheet, place)]


def _is_there(sheet, place):
    if place.stage == BENCH:
        return sheet.now(place.key, place.string) is not None
    at = (place.stage, place.step, place.key, place.string)
    return place.stage not in sheet.stages or sheet.holding(at) is not None


def _missing(place):
    key = place.key if place.stage == BENCH else f"{place.stage}.{place.key}"
    check = {RECEIVED: "as_received", LEFT: "as_left"}.get(place.stage, place.key)
    what = place.field.label + (f" of string {place.string}" if place.string else "")
    when = f" {WHEN[place.stage]}" if place.stage in WHEN else ""
    return Finding(
        key=key if place.string is None else f"{key}:{place.string}",
        step=place.step, string=place.string, check=check, verdict=MISSING, unit=place.field.unit,
        headline=f"Not read yet{when}: {what}.", why=WHY[place.stage],
    )  # fmt: skip
