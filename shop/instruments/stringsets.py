"""String sets in common use, by what they are, not by who sells them (common practice, no source).

Gauges are thousandths of an inch from string 1, the highest, down; `w` marks a wound string.
"""

from dataclasses import dataclass

from shop.instruments.kinds import Kind, Material

THOUSANDTH_MM = 0.0254
WOUND = {
    Kind.ELECTRIC: Material.WOUND_NICKEL,
    Kind.ARCHTOP: Material.WOUND_NICKEL,
    Kind.BASS: Material.WOUND_NICKEL,
    Kind.STEEL: Material.WOUND_BRONZE,
    Kind.NYLON: Material.WOUND_NYLON,
    Kind.OTHER: Material.WOUND_BRONZE,
}


@dataclass(frozen=True)
class Gauge:
    diameter_mm: float
    material: Material


@dataclass(frozen=True)
class StringSet:
    """`gauges` from string 1, the highest, down."""

    key: str
    kind: Kind
    label: str
    gauges: tuple

    @property
    def count(self):
        return len(self.gauges)


def _gauge(written, kind, plain):
    wound = written.endswith("w")
    material = WOUND[kind] if wound else plain
    return Gauge(round(float(written.rstrip("w")) * THOUSANDTH_MM, 4), material)


def _set(key, kind, name, gauges, plain=Material.PLAIN_STEEL):
    written = gauges.split()
    numbers = sorted(float(one.rstrip("w")) for one in written)
    label = f"{name}, 0.{numbers[0]:03.0f}–0.{numbers[-1]:03.0f}"
    return StringSet(key, kind, label, tuple(_gauge(one, kind, plain) for one in written))


SETS = (
    _set("electric-6-light", Kind.ELECTRIC, "light electric six", "10 13 17 26w 36w 46w"),
    _set("electric-6-extra-light", Kind.ELECTRIC, "extra-light electric six", "9 11 16 24w 32w 42w"),
    _set("electric-6-medium", Kind.ELECTRIC, "medium electric six", "11 14 18 28w 38w 49w"),
    _set("electric-6-heavy", Kind.ELECTRIC, "heavy electric six, wound third", "12 16 24w 32w 42w 54w"),
    _set("electric-7-light", Kind.ELECTRIC, "light electric seven", "10 13 17 26w 36w 46w 59w"),
    _set("electric-8-light", Kind.ELECTRIC, "light electric eight", "10 13 17 26w 36w 46w 59w 74w"),
    _set("electric-12-light", Kind.ELECTRIC, "light electric twelve", "10 10 13 13 8 17 12 26w 18 36w 26w 46w"),
    _set("archtop-6-medium", Kind.ARCHTOP, "medium archtop six, wound third", "12 16 24w 32w 42w 52w"),
    _set("archtop-6-light", Kind.ARCHTOP, "light archtop six", "11 14 18 28w 38w 49w"),
    _set("steel-6-light", Kind.STEEL, "light acoustic six", "12 16 24w 32w 42w 53w"),
    _set("steel-6-extra-light", Kind.STEEL, "extra-light acoustic six", "10 14 23w 30w 39w 47w"),
    _set("steel-6-medium", Kind.STEEL, "medium acoustic six", "13 17 26w 35w 45w 56w"),
    _set("steel-12-light", Kind.STEEL, "light acoustic twelve", "10 10 14 14 8 23w 12 30w 18 39w 27w 47w"),
    _set("nylon-6-usual", Kind.NYLON, "usual-pull nylon six", "28 32 40 29w 35w 43w", Material.NYLON),
    _set("nylon-6-hard", Kind.NYLON, "hard-pull nylon six", "29 33 41 30w 36w 45w", Material.NYLON),
    _set("bass-4-medium", Kind.BASS, "medium bass four", "45w 65w 85w 105w"),
    _set("bass-4-light", Kind.BASS, "light bass four", "40w 60w 80w 100w"),
    _set("bass-5-medium", Kind.BASS, "medium bass five", "45w 65w 85w 105w 130w"),
    _set("bass-6-medium", Kind.BASS, "medium bass six", "30w 45w 65w 85w 105w 130w"),
    _set("other-4-nylon", Kind.OTHER, "small nylon four", "24 32 36 28", Material.NYLON),
    _set("other-8-pairs", Kind.OTHER, "steel eight in pairs", "11 11 15 15 26w 26w 40w 40w"),
)  # fmt: skip
BY_KEY = {one.key: one for one in SETS}


def sets_for(kind, string_count):
    """The usual sets for that kind of instrument with so many strings, the commonest first."""
    return [one for one in SETS if one.kind == kind and one.count == string_count]
