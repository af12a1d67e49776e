"""Everything that was typed at one place."""

from dataclasses import dataclass

from django.http import Http404

from shop.worksheets.gauges import gauge_for
from shop.worksheets.models import Standing
from shop.worksheets.wording.said import Said


@dataclass(frozen=True)
class Typed:
    reading: object
    said: str
    gauge: str
    standing: str


@dataclass(frozen=True)
class History:
    label: str
    string: int | None
    typed: tuple  # newest first


def history_of(worksheet, step, asked, *, unit):
    """`asked` holds stage, key and string as text. Raises Http404 for a place that the step does not have."""
    stage, key, string = asked.get("stage"), asked.get("key"), asked.get("string") or None
    field = worksheet.family_plan.field(step.key, key, stage)
    if field is None or (string is not None and not string.isdecimal()):
        raise Http404("This step has no such reading.")
    rows = worksheet.readings.filter(
        step=step.key, stage=stage, key=key, string=int(string) if string else None
    ).select_related("by").order_by("-pk")[:50]  # fmt: skip
    said = Said(unit)
    return History(field.label, int(string) if string else None, tuple(_typed(one, field, said) for one in rows))


def _typed(reading, field, said):
    gauge = gauge_for(reading.gauge, field)
    words = said.value(reading.value, field.unit) if reading.value is not None and field.is_number else ""
    standing = "" if reading.standing == Standing.HOLDS else Standing(reading.standing).label
    return Typed(reading, words, gauge.label if gauge else "", standing)
