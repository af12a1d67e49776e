"""Figures as the bench says them."""

from dataclasses import dataclass

from geometry.units import parse_length_mm

# A length of the workshop's unit, decimals shown, and what stands behind. Differences are smaller than a 64th: a tenth
# of one is said too.
UNITS = {
    "mm": (1.0, 2, " mm"),
    "in": (parse_length_mm("1 in"), 3, " in"),
    "64ths": (parse_length_mm("1/64 in"), 1, "/64 in"),
}
# Nearest simple fraction of a turn, down to an eighth: what a hand can follow.
EIGHTHS = ("", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")


@dataclass(frozen=True)
class Said:
    """Says lengths in the workshop's unit: 'mm', 'in' or '64ths'."""

    unit: str = "mm"

    def length(self, mm):
        """A length with its unit: '1.62 mm', '0.064 in', '4.1/64 in'."""
        one, places, behind = UNITS[self.unit]
        return f"{_plain(mm / one, places)}{behind}"

    def between(self, low, high):
        """A range: 'between 1.60 and 2.10 mm', 'at least 0.40 mm', 'at most 1.00 mm'."""
        return _between(low, high, self.length)

    def value(self, value, unit):
        """A value in a field's unit."""
        own = {"mm": self.length, "deg": degrees, "cents": cents, "percent": percent, "celsius": celsius}
        return own.get(unit, str)(value)

    def range(self, low, high, unit):
        return _between(low, high, lambda one: self.value(one, unit))


def _between(low, high, say):
    if low is None and high is None:
        return "without a target"
    if low is None:
        return f"at most {say(high)}"
    if high is None:
        return f"at least {say(low)}"
    first, last = say(low), say(high)
    unit = " " + last.rsplit(" ", 1)[-1] if " " in last else ""
    return f"between {first.removesuffix(unit)} and {last}"


def _plain(value, places):
    text = f"{value:.{places}f}"
    return text.replace("-", "−") if float(text) else text.lstrip("-")


def degrees(value):
    return f"{_plain(value, 1)}°"


def cents(value):
    """Signed cents: '+2.3 cents', '−0.4 cents'."""
    text = _plain(value, 1)
    return f"{'+' if not text.startswith('−') and float(text) else ''}{text} cents"


def percent(value):
    return f"{value:.0f} %"


def celsius(value):
    return f"{_plain(value, 0)} °C"


def signed(said, value, unit):
    """A difference with its sign: '+0.11 mm', '−2.0 cents', '0.00 mm'."""
    text = said.value(value, unit)
    return text if text.startswith(("+", "−")) or not any(one in "123456789" for one in text) else f"+{text}"


def newtons(value):
    """A force with its everyday equal: '512 N (52 kg of pull)'."""
    return f"{value:.0f} N ({value / 9.80665:.0f} kg of pull)"


def turns(count):
    """A number of turns to the nearest eighth: '3/8 turn', '1 1/4 turns', 'less than 1/16 turn'."""
    eighths = round(abs(count) * 8)
    if eighths == 0:
        return "less than 1/16 turn"
    whole, part = divmod(eighths, 8)
    words = " ".join(word for word in (str(whole) if whole else "", EIGHTHS[part]) if word)
    return f"{words} turn" if eighths <= 8 else f"{words} turns"


def listed(words):
    """'1', '1 and 2', '1, 2 and 3'."""
    words = [str(one) for one in words]
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)
