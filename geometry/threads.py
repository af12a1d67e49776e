"""Screw threads: travel per turn, and turns for a travel."""

import re
from fractions import Fraction
from types import MappingProxyType

from geometry.errors import GeometryError, as_numbers, as_positive

__all__ = ["PITCHES_MM", "pitch_mm", "travel_mm", "turns"]

INCH_MM = 25.4
METRIC_COARSE = {"M2": 0.4, "M2.5": 0.45, "M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25}  # ISO 261, coarse
UNIFIED_PER_INCH = {"#4-40": 40, "#6-32": 32, "#8-32": 32, "#10-32": 32, "1/4-20": 20, "5/16-24": 24}  # ASME B1.1

# Travel per turn by designation [mm]; single-start threads, whose lead is their pitch.
PITCHES_MM = MappingProxyType(METRIC_COARSE | {name: INCH_MM / count for name, count in UNIFIED_PER_INCH.items()})

METRIC_FINE = re.compile(r"M(\d{1,2}(?:\.\d)?)\s*[x×]\s*(\d(?:\.\d{1,3})?)")
UNIFIED = re.compile(r"(#\d{1,2}|\d{1,2}/\d{1,2}|\d)\s*-\s*(\d{1,3})")


def pitch_mm(thread):
    """Pitch of a thread from its designation.

    Coarse metric sizes by size alone, any metric pitch as 'M5x0.5', any unified thread as 'size-threads per inch'.
    Source: ISO 261 and ASME B1.1 (designations and pitches); 25.4 mm to the inch.

    Parameters
    ----------
    thread : str
        Designation, such as M4, M5x0.5, #8-32 or 5/16-24.

    Returns
    -------
    float
        Travel per turn [mm].

    Examples
    --------
    >>> pitch_mm("M4"), pitch_mm("#8-32"), pitch_mm("M5x0.5"), round(pitch_mm("5/16-24"), 4)
    (0.7, 0.79375, 0.5, 1.0583)
    """
    said = thread.strip() if isinstance(thread, str) else ""
    named = PITCHES_MM.get(said.upper())
    pitch = named if named is not None else _spelled_pitch(said)
    if pitch is None:
        raise GeometryError("thread", thread, "a designation such as M4, M5x0.5, #8-32 or 5/16-24")
    return pitch


def _spelled_pitch(said):
    """Pitch of a designation that spells it out, None where it does not make a believable thread."""
    if metric := METRIC_FINE.fullmatch(said.replace("m", "M", 1)):
        diameter, pitch = float(metric[1]), float(metric[2])
        return pitch if 0.1 <= pitch < diameter else None
    if unified := UNIFIED.fullmatch(said):
        size, per_inch = unified[1], int(unified[2])
        return INCH_MM / per_inch if 8 <= per_inch <= 120 and _is_size(size) else None
    return None


def _is_size(size):
    if size.startswith("#"):
        return int(size[1:]) <= 12
    _, _, under = size.partition("/")
    return under != "0" and 0 < Fraction(size) <= 2


def turns(travel_mm, *, pitch_mm):
    """Turns of a screw for a travel, ``travel/pitch``. Elementwise.

    Source: definition of a single-start thread's pitch.

    Parameters
    ----------
    travel_mm : array_like
        Travel, either way [mm].
    pitch_mm : array_like
        Pitch, above 0; NaN for an unknown thread [mm].

    Returns
    -------
    numpy.ndarray or float
        Turns with the travel's sign; NaN where the thread is unknown.

    Examples
    --------
    >>> float(turns(-0.35, pitch_mm=0.7))
    -0.5
    """
    return as_numbers("travel_mm", travel_mm) / as_positive("pitch_mm", pitch_mm)


def travel_mm(turns, *, pitch_mm):
    """Travel of a screw for turns: the inverse of `turns`. Elementwise.

    Parameters
    ----------
    turns : array_like
        Turns, either way.
    pitch_mm : array_like
        Pitch, above 0; NaN for an unknown thread [mm].

    Returns
    -------
    numpy.ndarray or float
        Travel with the turns' sign [mm].

    Examples
    --------
    >>> float(travel_mm(0.5, pitch_mm=0.7))
    0.35
    """
    return as_numbers("turns", turns) * as_positive("pitch_mm", pitch_mm)
