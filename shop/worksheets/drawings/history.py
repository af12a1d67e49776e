"""One reading over the years, as it was left each time."""

from shop.worksheets.drawings.canvas import IN_MM, Canvas, Drawing, Frame, span

WIDTH, HEIGHT = 300, 96
BOX = (14, 26, WIDTH - 28, HEIGHT - 54)


def history_chart(*, name, label, points, low=None, high=None, unit="mm", said=IN_MM):
    """`points` are (date, value) pairs, oldest first; years run to the right in proportion."""
    if not points:
        return Drawing(label, "Not read yet.")
    days = [(at - points[0][0]).days for at, _ in points]
    sentence = says(label, points, unit, said)
    canvas = Canvas(WIDTH, HEIGHT, name=f"years-{name}", title=f"{label} over the years", says=sentence)
    heights = span([*(value for _, value in points), low, high])
    room = max(heights[1] - heights[0], 1e-6) * 0.15
    frame = Frame.stretch(BOX, (0, max(days[-1], 1)), (heights[0] - room, heights[1] + room))
    if low is not None and high is not None:
        top = frame.at(0, high)[1]
        canvas.add("rect", "target", x=BOX[0], y=top, width=BOX[2], height=frame.at(0, low)[1] - top, rx=3)
    spots = [frame.at(day, value) for day, (_, value) in zip(days, points, strict=True)]
    if len(spots) > 1:
        canvas.path("string", spots, stroke_width=1.5)
    for spot in spots:
        canvas.dot("present", spot, 5)
    canvas.text((BOX[0], HEIGHT - 6), f"{points[0][0].year}", role="soft", size=14)
    if points[-1][0].year != points[0][0].year:
        canvas.text((WIDTH - 14, HEIGHT - 6), f"{points[-1][0].year}", role="soft", size=14, anchor="end")
    canvas.text((WIDTH - 14, 18), said.value(points[-1][1], unit), anchor="end", weight=600)
    return Drawing(label, sentence, canvas.svg)


def says(label, points, unit, said):
    values = "; ".join(f"{said.value(value, unit)} in {at.year}" for at, value in points[-6:])
    return f"{label[:1].upper()}{label[1:]} as left: {values}."
