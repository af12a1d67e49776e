"""The octave's rounds: how many cents each string was off, reading by reading, against the range wanted."""

from shop.worksheets.drawings.canvas import IN_MM, Canvas, Drawing, Frame, cannot, span
from shop.worksheets.wording.said import cents

TITLE = "The octave, round by round"
WIDTH, HEIGHT = 380, 240
BOX = (56, 34, WIDTH - 72, HEIGHT - 70)
MOST_ROUNDS = 6


def octave_rounds(numbers, *, mirrored=False, said=IN_MM):
    """One column a string, sharp upwards; the newest reading is filled."""
    strings = list(numbers.get("strings", []))
    rounds = {number: rounds_of(numbers, number) for number in strings}
    if not any(rounds.values()):
        return cannot(TITLE, numbers, "octave")
    strings = strings[::-1] if mirrored else strings
    low, high = numbers.get("octave_range") or (None, None)
    sentence = says(rounds, low, high)
    canvas = Canvas(WIDTH, HEIGHT, name="octave", title=TITLE, says=sentence)
    known = [one for values in rounds.values() for one in values]
    frame = Frame.stretch(BOX, (-0.5, len(strings) - 0.5), span([*known, low, high, 0.0], 1.0))
    draw_ground(canvas, frame, low, high)
    for place, number in enumerate(strings):
        draw_column(canvas, frame, place, number, rounds[number], (low, high))
    return Drawing(TITLE, sentence, canvas.svg)


def rounds_of(numbers, number):
    series = numbers.get("octave") or {}
    taken = series.get(number, series.get(str(number))) or []
    return [one["cents"] for one in taken if one.get("cents") is not None][-MOST_ROUNDS:]


def draw_ground(canvas, frame, low, high):
    left, _, width, _ = BOX
    if low is not None and high is not None:
        upper, lower = frame.at(0, high)[1], frame.at(0, low)[1]
        canvas.add("rect", "target", x=left, y=upper, width=width, height=lower - upper)
    zero = frame.at(0, 0.0)[1]
    canvas.line("axis", (left, zero), (left + width, zero))
    canvas.text((left - 8, zero + 6), "0", role="soft", anchor="end")
    for limit in (low, high):
        at = frame.at(0, limit)[1] if limit is not None else zero
        if abs(at - zero) > 18:
            canvas.text((left - 8, at + 6), f"{limit:+g}".replace("-", "−"), role="soft", anchor="end")
    canvas.text((left - 46, 20), "cents", role="soft")


def draw_column(canvas, frame, place, number, values, wanted):
    low, high = wanted
    canvas.text((frame.at(place, 0)[0], HEIGHT - 8), str(number), anchor="middle", weight=700)
    if not values:
        return
    step = 0.6 / max(1, len(values) - 1)
    spots = [frame.at(place + (-0.3 + count * step if len(values) > 1 else 0.0), one)
             for count, one in enumerate(values)]  # fmt: skip
    canvas.path("faint", spots)
    for spot in spots[:-1]:
        canvas.dot("came", spot, 4)
    fits = (low is None or values[-1] >= low) and (high is None or values[-1] <= high)
    canvas.dot("present" if fits else "amiss", spots[-1], 6, data_string=number, data_cents=values[-1])


def says(rounds, low, high):
    last = {number: values[-1] for number, values in rounds.items() if values}
    number = max(last, key=lambda one: abs(last[one]))
    within = [one for one, value in last.items()
              if (low is None or value >= low) and (high is None or value <= high)]  # fmt: skip
    return f"{len(within)} of {len(last)} strings read lie in the range; furthest off is string {number}, " \
           f"{cents(last[number])}."  # fmt: skip
