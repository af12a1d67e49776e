"""Lengths, angles and threads as people write and read them; the numbers come from geometry."""

import math

from geometry import units
from geometry.errors import GeometryError

# The threads that posts, studs and saddle screws have, by the name a craftsman says.
THREAD_CHOICES = [
    ("M2", "M2"), ("M2.5", "M2.5"), ("M3", "M3"), ("M4", "M4"), ("M5", "M5"), ("M6", "M6"), ("M8", "M8"),
    ("#4-40", "#4-40"), ("#6-32", "#6-32"), ("#8-32", "#8-32"), ("#10-32", "#10-32"),
    ("1/4-20", "1/4-20"), ("5/16-24", "5/16-24"),
]  # fmt: skip


def length_mm(text, unit="mm"):
    """A length as people write it, in millimetres. A bare number is in `unit`: 'mm', 'in' or '64ths'.

    A bare fraction is one of an inch, as rules are marked: '4/64' is 1.5875 mm whatever the unit.
    Raises ValueError, a sentence that says what is accepted.
    """
    return _read(units.parse_length_mm, text, bare_unit=unit)


def angle_deg(text):
    """An angle in degrees. Raises ValueError, a sentence."""
    return math.degrees(_read(units.parse_angle_rad, text))


def cents(text):
    """An interval in cents, sharp plus. Raises ValueError, a sentence."""
    return _read(units.parse_cents, text)


def _read(parse, text, **options):
    try:
        return parse(text, **options)
    except GeometryError as problem:
        raise ValueError(f"Write {problem.allowed.removeprefix('believable: ')}.") from None
