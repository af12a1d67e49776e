"""One reading as it was left last time and as it came back, on one small scale with the target."""

from shop.worksheets.drawings.canvas import IN_MM, Canvas, Drawing, span
from shop.worksheets.drawings.ranges import MIDDLE, PAD, draw_target

TITLE = "As left last time and as it came back"
WIDTH, HEIGHT = 260, 34
STEP_ASIDE = 12  # an arrow shorter than this would be hidden under its dots


def drift_bar(*, name, left, now, low, high, unit="mm", said=IN_MM):
    """A filled dot for how it was left, an open one for how it came back, an arrow from one to the other."""
    known = span([left, now, low, high])
    if known is None or left is None or now is None:
        return Drawing(TITLE, "")
    room = max(known[1] - known[0], 1e-6) * 0.12
    start, scale = known[0] - room, (WIDTH - 2 * PAD) / (known[1] - known[0] + 2 * room)
    sentence = f"Left at {said.value(left, unit)}, now {said.value(now, unit)}{_target(low, high, unit, said)}."
    canvas = Canvas(WIDTH, HEIGHT, name=f"drift-{name}", title=TITLE, says=sentence)

    def at(value):
        return PAD + (value - start) * scale

    canvas.line("axis", (PAD, MIDDLE), (WIDTH - PAD, MIDDLE))
    draw_target(canvas, at, low, high)
    if abs(at(now) - at(left)) > STEP_ASIDE:
        canvas.arrow("measure", (at(left), MIDDLE), (at(now), MIDDLE), stroke_width=2)
    canvas.dot("present", (at(left), MIDDLE), 5.5, data_value=left)
    canvas.dot("came", (at(now), MIDDLE), 6, data_value=now)
    return Drawing(TITLE, sentence, canvas.svg)


def _target(low, high, unit, said):
    return "" if low is None and high is None else f", target {said.range(low, high, unit)}"
