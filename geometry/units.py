"""Quantities as people write them, read and written at the edge of the program; inside there are mm, rad, N, cents."""

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from geometry.errors import GeometryError, as_count, as_option

__all__ = [
    "LENGTH_UNITS", "format_length", "parse_angle_rad", "parse_cents", "parse_force_n", "parse_length_mm",
]  # fmt: skip

INCH = Fraction(254, 10)  # mm, exact: international yard and pound agreement of 1959
POUND_FORCE = Fraction(45359237, 100000000) * Fraction(980665, 100000)  # N, exact: same, and standard gravity
DEGREE = Fraction(math.pi / 180.0)

LENGTH_UNITS = MappingProxyType({
    "mm": Fraction(1), "cm": Fraction(10), "in": INCH, "64ths": INCH / 64, "thou": INCH / 1000,
})  # fmt: skip
LENGTH_WORDS = LENGTH_UNITS | {
    '"': INCH, "inch": INCH, "inches": INCH, "64th": INCH / 64, "mil": INCH / 1000, "mils": INCH / 1000,
    "thousandths": INCH / 1000, "thousandth": INCH / 1000,
}  # fmt: skip
ANGLE_WORDS = {"deg": DEGREE, "°": DEGREE, "degree": DEGREE, "degrees": DEGREE, "rad": Fraction(1)}
FORCE_WORDS = {"n": Fraction(1), "lbf": POUND_FORCE, "lb": POUND_FORCE, "lbs": POUND_FORCE, "newton": Fraction(1),
               "newtons": Fraction(1)}  # fmt: skip
CENT_WORDS = dict.fromkeys(("cents", "cent", "ct", "c", "¢"), Fraction(1))

VULGAR = str.maketrans({"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"})
SIGNS = str.maketrans({",": ".", "−": "-", "–": "-", "″": '"', "”": '"', "“": '"', "º": "°", "⁄": "/"})
NUMBER = r"\d{1,9}(?:\.\d{0,12})?|\.\d{1,12}"
QUANTITY = re.compile(
    rf"(?P<sign>[+-]?)\s*(?:(?:(?P<whole>\d{{1,4}})[ \-]\s*)?(?P<over>\d{{1,6}})\s*/\s*(?P<under>\d{{1,6}})"
    rf"|(?P<number>{NUMBER}))\s*(?P<unit>64ths?|[^\d\s.+-]*)(?P<rest>.*)"
)


@dataclass(frozen=True)
class _Kind:
    """A kind of quantity: its unit words, what is believable in its base unit, and what to say."""

    words: dict
    most: float
    example: str


LENGTH = _Kind(LENGTH_WORDS, 10_000.0, 'a length such as 1.6, 1.6 mm, 4/64, 1/16 in, 0.063" or 63 thou')
ANGLE = _Kind(ANGLE_WORDS, 2.0 * math.pi, "an angle such as 12, 12.5° or 0.2 rad")
CENTS = _Kind(CENT_WORDS, 12_000.0, "cents such as 2, +1.5 or -3 cents")
FORCE = _Kind(FORCE_WORDS, 100_000.0, "a force such as 70 N or 16 lbf")
KINDS = (LENGTH, ANGLE, CENTS, FORCE)


def parse_length_mm(text, *, bare_unit="mm"):
    """A length as people write it.

    A bare fraction is one of an inch, as rules are marked, whatever `bare_unit` says.

    Parameters
    ----------
    text : str
        Number, fraction or mixed number with a unit or none: mm, cm, in, ``"``, 64ths, thou and their long forms.
        Decimal comma or point.
    bare_unit : str
        What a number without unit is taken to be: mm, cm, in, 64ths or thou.

    Returns
    -------
    float
        Length, nearest to what was written [mm].

    Raises
    ------
    GeometryError
        Empty, no number, unknown unit, a unit of another kind, two units, or beyond ten metres.

    Examples
    --------
    >>> [parse_length_mm(one) for one in ("1.6", "1.6mm", "4/64", "1/16 in", '0.0625"', "62,5 thou", "4 64ths")]
    [1.6, 1.6, 1.5875, 1.5875, 1.5875, 1.5875, 1.5875]
    >>> parse_length_mm("3", bare_unit="64ths"), parse_length_mm("-1 1/2 in")
    (1.190625, -38.1)
    >>> parse_length_mm("3 N")
    Traceback (most recent call last):
    geometry.errors.GeometryError: text is '3 N'; it must be a length, not a force.
    """
    return _parse(text, LENGTH, LENGTH_UNITS[as_option("bare_unit", bare_unit, LENGTH_UNITS)], bare_fraction=INCH)


def parse_angle_rad(text, *, bare_unit="deg"):
    """An angle as people write it.

    Parameters
    ----------
    text : str
        Number with deg, °, rad or nothing.
    bare_unit : str
        What a number without unit is taken to be: deg or rad.

    Returns
    -------
    float
        Angle, at most a full turn either way [rad].

    Examples
    --------
    >>> round(parse_angle_rad("12.5°"), 6), parse_angle_rad("0.2 rad")
    (0.218166, 0.2)
    """
    return _parse(text, ANGLE, ANGLE_WORDS[as_option("bare_unit", bare_unit, ("deg", "rad"))])


def parse_cents(text):
    """An interval as people write it, sharp positive.

    Parameters
    ----------
    text : str
        Number with cents, ct, c, ¢ or nothing.

    Returns
    -------
    float
        Interval [cents].

    Examples
    --------
    >>> parse_cents("+1.5"), parse_cents("−3 cents")
    (1.5, -3.0)
    """
    return _parse(text, CENTS, Fraction(1))


def parse_force_n(text, *, bare_unit="n"):
    """A force as people write it.

    Parameters
    ----------
    text : str
        Number with N, lbf, lb or nothing.
    bare_unit : str
        What a number without unit is taken to be: n or lbf.

    Returns
    -------
    float
        Force [N].

    Examples
    --------
    >>> parse_force_n("70 N"), round(parse_force_n("16 lbf"), 4)
    (70.0, 71.1715)
    """
    return _parse(text, FORCE, FORCE_WORDS[as_option("bare_unit", bare_unit, ("n", "lbf"))])


def _parse(text, kind, bare, bare_fraction=None):
    if not isinstance(text, str) or not text.strip():
        raise GeometryError("text", text, f"{kind.example}, not empty")
    plain = text.strip().lower().translate(VULGAR).translate(SIGNS).replace("''", '"').strip()
    plain = plain[:-1] if plain.endswith("in.") else plain
    found = QUANTITY.fullmatch(plain)
    if not found:
        raise GeometryError("text", text, kind.example)
    factor = _factor(text, found, kind)
    if factor is None:
        factor = bare_fraction if found["over"] and bare_fraction else bare
    value = float(_number(text, found, kind) * factor)
    if abs(value) > kind.most:
        raise GeometryError("text", text, f"believable: {kind.example}")
    return value


def _factor(text, found, kind):
    """Factor of the unit written, None for a bare number."""
    unit, rest = found["unit"], found["rest"].strip()
    if rest:
        raise GeometryError("text", text, f"one number with at most one unit: {kind.example}")
    if not unit:
        return None
    if unit not in kind.words:
        other = next((one for one in KINDS if unit in one.words), None)
        said = kind.example.split(" such as", maxsplit=1)[0]
        wrong = f"{said}, not {other.example.split(' such as', maxsplit=1)[0]}" if other else kind.example
        raise GeometryError("text", text, wrong)
    return kind.words[unit]


def _number(text, found, kind):
    if found["over"]:
        if int(found["under"]) == 0:
            raise GeometryError("text", text, f"a fraction with something other than 0 below: {kind.example}")
        value = Fraction(int(found["over"]), int(found["under"])) + int(found["whole"] or 0)
    else:
        value = Fraction(found["number"])
    return -value if found["sign"] == "-" else value


def format_length(length_mm, *, unit, digits=None):
    """A length as the bench reads it; `parse_length_mm` reads it back to within half of the last digit.

    Parameters
    ----------
    length_mm : float
        One length, finite [mm].
    unit : str
        mm, cm, in, 64ths or thou. 64ths rounds to whole ones.
    digits : int, optional
        Decimals, 0 to 9; by unit 2, 3, 3, -, 1 if not given. Not for 64ths.

    Returns
    -------
    str
        Number and unit.

    Examples
    --------
    >>> [format_length(1.5875, unit=one) for one in ("mm", "in", "64ths", "thou")]
    ['1.59 mm', '0.062 in', '4/64 in', '62.5 thou']
    >>> format_length(-39.6875, unit="64ths")
    '-1 36/64 in'
    """
    as_option("unit", unit, LENGTH_UNITS)
    if not isinstance(length_mm, (int, float)) or not math.isfinite(length_mm):
        raise GeometryError("length_mm", length_mm, "one finite number")
    exact = Fraction(length_mm) / LENGTH_UNITS[unit]
    if unit == "64ths":
        return _in_64ths(exact)
    places = {"mm": 2, "cm": 3, "in": 3, "thou": 1}[unit] if digits is None else as_count("digits", digits, 0, 9)
    return f"{float(round(exact, places)) + 0.0:.{places}f} {unit}"


def _in_64ths(exact):
    whole, over = divmod(abs(round(exact)), 64)
    sign = "-" if exact < 0 and (whole or over) else ""
    return f"{sign}{whole} {over}/64 in" if whole else f"{sign}{over}/64 in"
