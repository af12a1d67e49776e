"""How it came against how it left, on one small scale with the target."""

from shop.worksheets.drawings.canvas import IN_MM, Canvas, Drawing, span

TITLE = "As received and as left against the target"
WIDTH, HEIGHT = 260, 34
MIDDLE, PAD = 17, 14


def range_bar(*, name, received, left, low, high, unit="mm", said=IN_MM, over=None):
    """A bar from low to high with an open dot for as received and a filled one for as left, or an empty drawing.

    `name` makes the ids of the drawing unlike those of its neighbours. `over` is the (least, greatest) value that has
    to have room, so that neighbours are drawn to one scale; its own values where there is none.
    """
    known = span([received, left, low, high, *(over or ())])
    if known is None or (received is None and left is None):
        return Drawing(TITLE, "")
    room = max(known[1] - known[0], 1e-6) * 0.12
    start, end = known[0] - room, known[1] + room
    scale = (WIDTH - 2 * PAD) / (end - start)
    sentence = says(received, left, low, high, unit, said)
    canvas = Canvas(WIDTH, HEIGHT, name=f"range-{name}", title=TITLE, says=sentence)

    def at(value):
        return PAD + (value - start) * scale

    canvas.line("axis", (PAD, MIDDLE), (WIDTH - PAD, MIDDLE))
    draw_target(canvas, at, low, high)
    if received is not None and left is not None and abs(at(left) - at(received)) > 14:
        canvas.arrow("faint", (at(received), MIDDLE), (at(left), MIDDLE), stroke_width=2)
    if received is not None:
        canvas.dot("came", (at(received), MIDDLE), 6, data_value=received)
    if left is not None:
        canvas.dot("present", (at(left), MIDDLE), 5.5, data_value=left)
    return Drawing(TITLE, sentence, canvas.svg)


def draw_target(canvas, at, low, high):
    """The target; an open end runs to the edge of the bar."""
    if low is None and high is None:
        return
    begin = at(low) if low is not None else PAD
    finish = at(high) if high is not None else WIDTH - PAD
    canvas.add("rect", "target", x=begin, y=MIDDLE - 9, width=max(2.0, finish - begin), height=18, rx=3)


def says(received, left, low, high, unit, said):
    parts = []
    if received is not None:
        parts.append(f"as received {said.value(received, unit)}")
    if left is not None:
        parts.append(f"as left {said.value(left, unit)}")
    if low is not None or high is not None:
        parts.append(f"target {said.range(low, high, unit)}")
    words = ", ".join(parts)
    return f"{words[:1].upper()}{words[1:]}."
