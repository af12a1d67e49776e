"""Tension of every string at pitch, and the whole load on the neck."""

from dataclasses import dataclass

import numpy as np

from geometry.materials import MATERIALS
from geometry.pitch import frequency_hz
from geometry.strings import string_mass_kg_per_m, tension_n, total_load_n
from shop.worksheets.model.lacking import Lacking
from shop.worksheets.together import ask, asking

# A kind of string → (material of the core or of the whole, material of the wrap).
MADE_OF = {
    "plain_steel": ("steel", None),
    "wound_nickel": ("steel", "nickel"),
    "wound_bronze": ("steel", "phosphor_bronze"),
    "nylon": ("nylon", None),
    "wound_nylon": ("nylon", "silvered_copper"),
}
UNKNOWN = (None, None)
CORE_SHARE = 0.4  # core of a wound string as a share of the whole, where nobody has read it; common practice, no source


@dataclass(frozen=True)
class Load:
    """`tension` per string [N], bass to treble, NaN where the string is not known; `total` [N]; `before` [N] or None.

    `assumed` are string numbers whose core nobody has measured.
    """

    tension: np.ndarray
    total: float
    before: float | None
    assumed: tuple


@asking
def load_of(sheet, scale, strings_before=None):
    tension = yield from tensions(sheet.strings, scale, sheet.reference_pitch_hz)
    if np.isnan(tension).all():
        raise Lacking("The strings are not known: note and diameter of each are needed for their pull.")
    before = None
    if strings_before and len(strings_before) == len(sheet.strings):
        earlier = yield from tensions(strings_before, scale, sheet.reference_pitch_hz)
        total = float((yield ask(total_load_n, earlier)))
        before = total if np.isfinite(total) else None
    assumed = tuple(one["number"] for one in sheet.strings if one.get("assumed") or _core_is_assumed(one))
    return Load(tension, float((yield ask(total_load_n, tension))), before, assumed)


def tensions(strings, scale, reference_hz):
    """Asks for the tension of each string at its pitch [N]; NaN where note or diameter is not known."""
    kinds = [made_of(one) for one in strings]
    wraps = [wrap for _, wrap in kinds]
    mass = yield ask(
        string_mass_kg_per_m, _column(strings, "diameter_mm"),
        core_mm=np.array([core_of(one, wrap) for one, wrap in zip(strings, wraps, strict=True)]),
        core_density_kg_per_m3=np.array([_density(core) for core, _ in kinds]),
        wrap_density_kg_per_m3=np.array([_density(wrap) for wrap in wraps]),
    )
    pitch = yield ask(frequency_hz, _column(strings, "midi"), reference_hz=np.full(len(strings), reference_hz))
    return (yield ask(tension_n, mass, length_mm=scale, frequency_hz=pitch))


def made_of(string):
    """(material of the core or of the whole, material of the wrap or None)."""
    return MADE_OF.get(string.get("material"), UNKNOWN)


def _density(material):
    return MATERIALS[material].density_kg_per_m3 if material else np.nan


def _column(strings, key):
    return np.array([np.nan if one.get(key) is None else float(one[key]) for one in strings])


def core_of(string, wrap):
    """Diameter of a wound string's core, mm; NaN for a plain one."""
    if wrap is None:
        return np.nan
    if string.get("core_mm"):
        return float(string["core_mm"])
    return CORE_SHARE * float(string["diameter_mm"]) if string.get("diameter_mm") else np.nan


def _core_is_assumed(string):
    return made_of(string)[1] is not None and not string.get("core_mm")
