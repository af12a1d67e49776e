"""A value as it stands in a row: without its unit, which is said once at the row's head."""

from shop.worksheets.families.parts import CELSIUS, CENTS, DEG, MM, PERCENT

UNIT_WORDS = {"mm": "mm", "in": "inches", "64ths": "64ths of an inch"}
OTHER_UNITS = {DEG: "degrees", CENTS: "cents, sharp is plus", PERCENT: "%", CELSIUS: "°C"}
UNITS_SAID = (" mm", "/64 in", " in", " cents", " %", " °C")


def unit_words(unit, said):
    """What the figures of a row are in."""
    return UNIT_WORDS[said.unit] if unit == MM else OTHER_UNITS.get(unit, "")


def short(said, value, unit):
    """A value without its unit, which stands at the head of the row."""
    text = said.value(value, unit)
    return next((text.removesuffix(one) for one in UNITS_SAID if text.endswith(one)), text)


def short_range(said, low, high, unit):
    if low is None and high is None:
        return ""
    if low is None:
        return f"≤ {short(said, high, unit)}"
    if high is None:
        return f"≥ {short(said, low, unit)}"
    # A place where a narrow column may break the line.
    return f"{short(said, low, unit)}–\u200b{short(said, high, unit)}".replace("°–", "–")
