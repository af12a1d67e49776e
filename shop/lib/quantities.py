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
NOT_BREAKING = "\u00a0"


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


def percent(text):
    """A share such as the air's humidity: `45`, `45 %`, `45,5`. Raises ValueError, a sentence."""
    return _plain_number(text.strip().removesuffix("%"), "Write a percentage, such as 45 or 45 %.")


def celsius(text):
    """A temperature in degrees Celsius: `21`, `21 °C`, `70 F`. Raises ValueError, a sentence."""
    bare = text.strip().upper().replace("°", " ").strip()
    said = "Write a temperature, such as 21, 21 °C or 70 °F."
    if bare.endswith("F"):
        return (_plain_number(bare.removesuffix("F"), said) - 32.0) / 1.8
    return _plain_number(bare.removesuffix("C"), said)


def _plain_number(text, problem):
    try:
        value = float(text.strip().replace(",", ".").replace("\u2212", "-"))
    except ValueError:
        raise ValueError(problem) from None
    if not math.isfinite(value):
        raise ValueError(problem)
    return value


def gauge_mm(text):
    """A string's thickness. A bare number is read by its size, as players write it: `10` and `.010` are 0.010 in,
    `0.25` is mm. Raises ValueError, a sentence.
    """
    bare = text.strip().replace(",", ".")
    try:
        number = float(bare)
    except ValueError:
        return length_mm(text)
    unit = "thou" if number >= 6 else "in" if number < 0.2 else "mm"
    return _read(units.parse_length_mm, bare, bare_unit=unit)


def shown_length(value_mm, unit="mm"):
    """A length as this workshop reads it: `628 mm`, `24.724 in`, `24 46/64 in`. Empty for None."""
    if value_mm is None:
        return ""
    text = units.format_length(float(value_mm), unit=unit)
    number, space, word = text.rpartition(" ")
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    return f"{number}{space}{word}".replace(" ", NOT_BREAKING)


def shown_gauge(value_mm):
    """A string's thickness in thousandths of an inch and in mm: `0.010 in · 0.25 mm`."""
    if value_mm is None:
        return ""
    return f"{value_mm / 25.4:.3f}{NOT_BREAKING}in · {value_mm:.2f}{NOT_BREAKING}mm"


def shown_number(value, unit="none", length_unit="mm"):
    """A value of the specification in its own unit: a length, an angle or a bare number. Empty for None."""
    if value is None:
        return ""
    if unit == "mm":
        return shown_length(value, length_unit)
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return f"{text}{NOT_BREAKING}°" if unit == "deg" else text


def read_number(text, unit="none", length_unit="mm"):
    """The number that somebody typed for a value in `unit`: mm, deg or none. Raises ValueError, a sentence."""
    if unit == "mm":
        return length_mm(text, length_unit)
    if unit == "deg":
        return angle_deg(text)
    try:
        return float(int(text.strip()))
    except ValueError:
        raise ValueError("Write a whole number, such as 22.") from None


def _read(parse, text, **options):
    try:
        return parse(text, **options)
    except GeometryError as problem:
        raise ValueError(f"Write {problem.allowed.removeprefix('believable: ')}.") from None
