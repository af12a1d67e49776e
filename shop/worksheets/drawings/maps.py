"""Two fields of strings and frets: where a string strikes a crown, and how true each fret is."""

from shop.worksheets.drawings.canvas import IN_MM, Drawing, cannot
from shop.worksheets.drawings.field import FOOT, ROW, Field
from shop.worksheets.model.fretted import PLUCK_N
from shop.worksheets.wording.said import listed

BUZZ = "Where strings buzz, fret by fret"
CENTS = "How true every fret is"
MOST_DRAWN = 15.0  # cents
LEAST_DOUBT = 0.05  # cents; less is said as nothing
CLOSE_MM = 0.05  # a margin that a fret not quite level eats up; common practice, no source


def buzz_field(numbers, *, mirrored=False, said=IN_MM, name="buzz"):
    """A cross where a string held there strikes a crown in ordinary playing, a ring where it only just clears."""
    buzz = numbers.get("buzz")
    if not buzz:
        return cannot(BUZZ, numbers, "buzz")
    strings = [one for one in numbers["strings"] if _known(buzz["margin"].get(str(one)))]
    sentence = buzz_says(buzz, strings, said)
    field = Field(numbers["strings"], buzz["fret_x"], name=name, title=BUZZ, says=sentence, mirrored=mirrored)
    for number in strings:
        margins = buzz["margin"][str(number)]
        for fret, margin in enumerate(margins):
            if margin is not None and margin < 0:
                field.cross(number, fret)
            elif margin is not None and margin < CLOSE_MM:
                field.ring(number, fret)
        least = min(_known(margins))
        field.beside(number, _short(said, least), "amiss-label" if least < 0 else "soft")
    field.legend((f"× strikes   ○ clears by under {said.length(CLOSE_MM)}", "beside each string: its least margin"))
    field.canvas.scale_bar((4, field.height - 8), field.frame.per_mm, most=110)
    return Drawing(BUZZ, sentence, field.canvas.svg)


def _known(values):
    return [one for one in values or [] if one is not None]


def _short(said, mm):
    """A margin with its sign and without its unit, which the legend's figure has."""
    text = said.length(mm)
    return ("" if text.startswith("−") else "+") + text.rsplit(" ", 1)[0]


def buzz_says(buzz, strings, said):
    struck = [(one, [f for f, m in enumerate(buzz["margin"][str(one)]) if m is not None and m < 0]) for one in strings]
    parts = [f"string {one} {frets_said(frets)}" for one, frets in struck if frets]
    if parts:
        return f"Plucked with {PLUCK_N:g} N across the board these would strike a fret: {'; '.join(parts)}."
    if not strings:
        return "No string is known well enough."
    least, number = min((min(_known(buzz["margin"][str(one)])), one) for one in strings)
    nearest = f"string {number} comes nearest, by {said.length(least)}"
    return f"Plucked with {PLUCK_N:g} N across the board no string strikes a fret; {nearest}."


def frets_said(frets):
    """'open and held at 1 to 4 and 7'."""
    runs, held = [], [one for one in frets if one]
    for fret in held:
        if runs and fret == runs[-1][1] + 1:
            runs[-1][1] = fret
        else:
            runs.append([fret, fret])
    said = listed(str(a) if a == b else f"{a} to {b}" for a, b in runs)
    return " and ".join(part for part in ("open" if 0 in frets else "", f"held at {said}" if said else "") if part)


def cents_field(numbers, *, mirrored=False, said=IN_MM, name="cents"):
    """A bar a fret: up is sharp, down is flat; past the octave's own range it is drawn heavier and said."""
    found = numbers.get("cents")
    if not found:
        return cannot(CENTS, numbers, "cents")
    low, high = numbers.get("octave_range") or (None, None)
    strings = [one for one in numbers["strings"] if _known(found["cents"].get(str(one)))]
    sentence = cents_says(found, strings)
    field = Field(numbers["strings"], found["fret_x"], name=name, title=CENTS, says=sentence, mirrored=mirrored)
    most = max((abs(one) for string in strings for one in _known(found["cents"][str(string)])), default=0.0)
    tall = ROW / 2 - 1
    per_cent = tall / min(max(most, 5.0), MOST_DRAWN)  # a bar past that stops at its row's edge
    for number in strings:
        values = found["cents"][str(number)]
        for fret, value in enumerate(values, start=1):
            if value is not None:
                field.bar(number, fret, max(-tall, min(tall, value * per_cent)), amiss=_past(value, low, high))
        worst = max(_known(values), key=abs)
        field.beside(number, f"{worst:+.1f}".replace("-", "−"), "amiss-label" if _past(worst, low, high) else "soft")
    beside = "beside each string: its worst" + (f", ±{found['doubt']:.1f}" if found["doubt"] >= LEAST_DOUBT else "")
    field.legend(("up is sharp, down is flat, red: past the range", beside))
    field.canvas.scale_bar((4, field.height - 8), field.frame.per_mm, most=110)
    top = field.height - FOOT + 66
    field.canvas.line("scale", (196, top), (196, top - 5 * per_cent))
    field.canvas.text((204, top + 3), "5 cents", role="soft", size=16)
    return Drawing(CENTS, sentence, field.canvas.svg)


def _past(value, low, high):
    return (low is not None and value < low) or (high is not None and value > high)


def cents_says(found, strings):
    if not strings:
        return "No octave of a string that is known has been read."
    worst, fret, number = max(
        (abs(value), fret, one) for one in strings
        for fret, value in enumerate(found["cents"][str(one)], start=1) if value is not None
    )  # fmt: skip
    way = "sharp" if found["cents"][str(number)][fret - 1] > 0 else "flat"
    doubt = found["doubt"]
    told = f"; what the ends of the strings do leaves ±{doubt:.1f} cents open" if doubt >= LEAST_DOUBT else ""
    furthest = f"Furthest off is string {number} at fret {fret}, {worst:.1f} cents {way}."
    return f"{furthest} Worked out from each octave as read{told}."
