"""From what a bench hand types to a value: mm, degrees or cents; or a sentence that says what would be accepted."""

from dataclasses import dataclass

from shop.lib import quantities
from shop.worksheets.families.parts import CELSIUS, CENTS, CHOICE, DEG, MM, PERCENT, TEXT, YES_NO

YES, NO = {"yes", "y", "1", "true", "ok"}, {"no", "n", "0", "false"}
LONGEST = 200
UNIT_WORDS = {PERCENT: "%", CELSIUS: "°C"}


@dataclass(frozen=True)
class Parsed:
    """`value` in the field's unit, or None with a `problem`; both empty for an empty field or a text."""

    value: float | None = None
    problem: str = ""


def parse(field, raw, *, unit="mm"):
    """Read `raw` as `field` asks. `unit` is what a bare length is taken to be in: 'mm', 'in' or '64ths'."""
    text = raw.strip()
    if len(text) > LONGEST:
        return Parsed(problem=f"Write at most {LONGEST} characters; the rest belongs in a remark.")
    if not text or field.unit == TEXT:
        return Parsed()
    return READERS[field.unit](field, text, unit)


def _choice(field, text, unit):
    codes = [code for code, _ in field.choices]
    if text.lower() in codes:
        return Parsed(float(codes.index(text.lower())))
    return Parsed(problem=f"Choose one of: {'; '.join(label for _, label in field.choices)}.")


def _yes_no(field, text, unit):
    word = text.lower()
    if word in YES | NO:
        return Parsed(1.0 if word in YES else 0.0)
    return Parsed(problem="Answer yes or no.")


def _length(field, text, unit):
    return _bounded(field, quantities.length_mm, text, unit)


def _angle(field, text, unit):
    return _bounded(field, quantities.angle_deg, text)


def _cents(field, text, unit):
    return _bounded(field, quantities.cents, text)


def _percent(field, text, unit):
    return _bounded(field, quantities.percent, text)


def _celsius(field, text, unit):
    return _bounded(field, quantities.celsius, text)


def _bounded(field, read, *given):
    try:
        value = read(*given)
    except ValueError as problem:
        return Parsed(problem=str(problem))
    if not field.low <= value <= field.high:
        unit = UNIT_WORDS.get(field.unit, field.unit)
        return Parsed(problem=f"That cannot be {field.label}: it lies between {field.low:g} and {field.high:g} "
                              f"{unit}. Look at the figure and its unit again.")  # fmt: skip
    return Parsed(value)


READERS = {
    CHOICE: _choice, YES_NO: _yes_no, MM: _length, DEG: _angle, CENTS: _cents, PERCENT: _percent, CELSIUS: _celsius,
}
