"""Lengths, angles and threads as people write and read them; the numbers come from geometry."""

import re
from fractions import Fraction

# The threads that posts, studs and saddle screws have, by the name a craftsman says.
THREAD_CHOICES = [
    ("M2", "M2"), ("M2.5", "M2.5"), ("M3", "M3"), ("M4", "M4"), ("M5", "M5"), ("M6", "M6"), ("M8", "M8"),
    ("#4-40", "#4-40"), ("#6-32", "#6-32"), ("#8-32", "#8-32"), ("#10-32", "#10-32"),
    ("1/4-20", "1/4-20"), ("5/16-24", "5/16-24"),
]  # fmt: skip

INCH_MM = 25.4
# What a bare number is taken to be, by the workshop's unit.
BARE_MM = {"mm": 1.0, "in": INCH_MM, "64ths": INCH_MM / 64}
LENGTH_UNITS = {
    "": None, "mm": 1.0, "cm": 10.0, "in": INCH_MM, "inch": INCH_MM, "inches": INCH_MM, '"': INCH_MM,
    "thou": INCH_MM / 1000, "64ths": INCH_MM / 64, "64": INCH_MM / 64,
}  # fmt: skip
ACCEPTED_LENGTHS = 'Write a length such as 1.6, 1.6 mm, 4/64, 1/16 in or 0.063".'
ACCEPTED_ANGLES = "Write an angle in degrees, such as 12 or 12.5°."
ACCEPTED_CENTS = "Write cents, such as 2, +1.5 or -3; sharp is plus."
QUANTITY = re.compile(
    r"(?P<sign>[+-]?)\s*"
    r"(?:(?:(?P<whole>\d{1,4})[ -])?(?P<over>\d{1,4})/(?P<under>\d{1,4})|(?P<number>\d{1,6}(?:\.\d{0,9})?|\.\d{1,9}))"
    r"\s*(?P<unit>64ths|[a-z\"°]*)"
)


def length_mm(text, unit="mm"):
    """A length as people write it, in millimetres. A bare number is in `unit`: 'mm', 'in' or '64ths'.

    A bare fraction is one of an inch, as rules are marked: '4/64' is 1.5875 mm whatever the unit.
    Raises ValueError, a sentence that says what is accepted.
    """
    value, given, is_fraction = _read(text, ACCEPTED_LENGTHS)
    if given not in LENGTH_UNITS:
        raise ValueError(ACCEPTED_LENGTHS)
    factor = LENGTH_UNITS[given] or (INCH_MM if is_fraction else BARE_MM[unit])
    return value * factor


def angle_deg(text):
    """An angle in degrees. Raises ValueError, a sentence."""
    value, given, _ = _read(text, ACCEPTED_ANGLES)
    if given not in ("", "°", "deg", "degrees"):
        raise ValueError(ACCEPTED_ANGLES)
    return value


def cents(text):
    """An interval in cents, sharp plus. Raises ValueError, a sentence."""
    value, given, _ = _read(text, ACCEPTED_CENTS)
    if given not in ("", "c", "ct", "cent", "cents"):
        raise ValueError(ACCEPTED_CENTS)
    return value


def _read(text, accepted):
    """(value, unit word, whether it was a fraction) of a number, a fraction or a mixed number with a unit or none."""
    plain = text.strip().lower().replace(",", ".").replace("−", "-").replace("″", '"').replace("''", '"')
    plain = plain.rstrip(".") if plain.endswith("in.") else plain
    found = QUANTITY.fullmatch(plain)
    if not found or (found["over"] and int(found["under"]) == 0):
        raise ValueError(accepted)
    if found["over"]:
        value = Fraction(int(found["over"]), int(found["under"])) + int(found["whole"] or 0)
    else:
        value = Fraction(found["number"])
    return float(-value if found["sign"] == "-" else value), found["unit"], bool(found["over"])
