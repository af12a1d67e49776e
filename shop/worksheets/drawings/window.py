"""Which stud heights work: the window in (bass stud, treble stud), where they are now, and the move advised."""

from shop.worksheets.drawings.canvas import IN_MM, Canvas, Drawing, Frame, cannot, nice_length, span

TITLE = "The stud window"
WIDTH, HEIGHT = 380, 340
BOX = (58, 14, WIDTH - 76, HEIGHT - 86)


def stud_window(numbers, *, mirrored=False, said=IN_MM):
    """Bass stud to the right, treble stud upwards, one scale both ways; mirrored instruments look the same."""
    window = numbers.get("window")
    if not window or not window.get("present"):
        return cannot(TITLE, numbers, "window")
    polygon, present, advised = window.get("polygon") or [], window["present"], window.get("advised")
    sentence = says(polygon, present, advised, said)
    canvas = Canvas(WIDTH, HEIGHT, name="window", title=TITLE, says=sentence)
    places = [*polygon, present, *([advised] if advised else [])]
    frame = Frame.fit(BOX, span([x for x, _ in places], 1.0), span([y for _, y in places], 1.0))
    draw_axes(canvas, frame, places)
    if polygon:
        canvas.path("target", [frame.at(*place) for place in polygon], closed=True)
    else:
        canvas.text((BOX[0] + BOX[2] / 2, BOX[1] + 22), "no setting works", role="amiss-label", anchor="middle",
                    weight=700)  # fmt: skip
    draw_points(canvas, frame, present, advised)
    canvas.scale_bar((WIDTH - 140, HEIGHT - 10), frame.per_mm, most=70)
    return Drawing(TITLE, sentence, canvas.svg)


def draw_axes(canvas, frame, places):
    left, top, width, height = BOX
    canvas.line("axis", (left, top + height), (left + width, top + height))
    canvas.line("axis", (left, top), (left, top + height))
    for x in ticks(frame.x_from, frame.x_from + width / frame.per_mm):
        at = frame.at(x, frame.z_from)[0]
        if left <= at <= left + width:
            canvas.line("faint", (at, top), (at, top + height))
            canvas.text((at, top + height + 20), f"{x:g}", role="soft", anchor="middle")
    for z in ticks(frame.z_from, frame.z_from + height / frame.per_mm):
        at = frame.at(frame.x_from, z)[1]
        if top <= at <= top + height:
            canvas.line("faint", (left, at), (left + width, at))
            canvas.text((left - 8, at + 6), f"{z:g}", role="soft", anchor="end")
    canvas.text((left, top + height + 42), "bass stud, mm above the top")
    middle = top + height / 2
    canvas.text((16, middle), "treble stud", anchor="middle", transform=f"rotate(-90 16 {middle:g})")


def ticks(start, end):
    step = max(0.5, nice_length((end - start) / 4))
    first = -(-start // step)
    return [round((first + count) * step, 6) for count in range(int((end - start) // step) + 2)]


def draw_points(canvas, frame, present, advised):
    here = frame.at(*present)
    if advised and advised != present:
        there = frame.at(*advised)
        canvas.arrow("advised", here, there)
        canvas.dot("advised", there, 8)
        label(canvas, there, "advised", "advised-label")
    canvas.dot("present", here, 7)
    label(canvas, here, "now", "label", above=False)


def label(canvas, at, words, role, *, above=True):
    near_end = at[0] > WIDTH - 110
    x = at[0] - 14 if near_end else at[0] + 14
    canvas.text((x, at[1] + (-6 if above else 18)), words, role=role, anchor="end" if near_end else "start", weight=600)


def says(polygon, present, advised, said):
    now = f"The studs stand at {said.length(present[0])} (bass) and {said.length(present[1])} (treble)"
    if not polygon:
        return f"{now}. No pair of stud heights satisfies every string."
    if advised and advised != present:
        return f"{now}; {said.length(advised[0])} and {said.length(advised[1])} would be inside the window."
    return f"{now}, inside the window in which every string bends enough and clears the edge."
