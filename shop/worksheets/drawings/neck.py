"""The neck from the side: crowns with their relief, and the outer strings over them. Heights drawn larger."""

from shop.worksheets.drawings.canvas import IN_MM, Canvas, Drawing, Frame, cannot, span

TITLE = "String height along the neck"
WIDTH, HEIGHT = 380, 286
BOX = (16, 30, WIDTH - 32, HEIGHT - 124)


def neck_heights(numbers, *, mirrored=False, said=IN_MM):
    """The nut on the left. The lowest and the highest string, each with its range at fret 12."""
    neck = numbers.get("neck") or {}
    if not neck.get("fret_x") or not neck.get("crown"):
        return cannot(TITLE, numbers, "neck")
    outer = [number for number in ends(numbers.get("strings", [])) if line_of(neck, number)]
    sentence = says(neck, outer, said)
    canvas = Canvas(WIDTH, HEIGHT, name="neck", title=TITLE, says=sentence)
    frame = frame_of(neck, outer)
    draw_crowns(canvas, frame, neck)
    for number in outer:
        draw_string(canvas, frame, neck, number, faint=number != outer[0])
    draw_relief(canvas, frame, neck, said)
    canvas.scale_bar((16, HEIGHT - 10), frame.per_mm, most=90)
    canvas.scale_bar((WIDTH - 84, HEIGHT - 8), frame.per_mm_up, upright=True, most=44)
    times = frame.per_mm_up / frame.per_mm
    canvas.text((16, HEIGHT - 36), f"heights drawn {times:.0f} times larger", role="soft")
    return Drawing(TITLE, sentence, canvas.svg)


def ends(strings):
    return strings if len(strings) < 2 else [strings[0], strings[-1]]


def of_string(values, number):
    """A value kept by string number, whose keys may have become text on their way through JSON."""
    values = values or {}
    return values.get(number, values.get(str(number)))


def was_read(neck, number):
    """Whether the height of this string was read; otherwise it is drawn after the others. Older sheets do not say."""
    return of_string(neck.get("read"), number) is not False


def line_of(neck, number):
    """[nut, crest] of a string as (x, z) pairs, or None."""
    start, end = of_string(neck.get("nut"), number), of_string(neck.get("crest"), number)
    return [start, end] if start and end and None not in (*start, *end) else None


def frame_of(neck, outer):
    lines = [line_of(neck, number) for number in outer]
    x = span([*neck["fret_x"], 0.0, *(place[0] for line in lines for place in line)], 4.0)
    z = span([*neck["crown"], 0.0, *(place[1] for line in lines for place in line)], 0.15)
    return Frame.stretch(BOX, x, z)


def draw_crowns(canvas, frame, neck):
    floor = frame.bottom + 8
    tops = [frame.at(x, z) for x, z in zip(neck["fret_x"], neck["crown"], strict=False)]
    ground = [(tops[0][0] - 6, floor), *tops, (tops[-1][0] + 4, floor)]
    canvas.path("body", ground, closed=True)
    for number, (x, z) in zip(neck.get("fret") or range(1, len(tops) + 1), tops, strict=False):
        canvas.line("axis", (x, z), (x, floor))
        if number in (1, 5, 7, 12):
            canvas.text((x, floor + 18), str(number), role="soft", anchor="middle")


def draw_string(canvas, frame, neck, number, *, faint):
    start, end = (frame.at(*place) for place in line_of(neck, number))
    dashed = {} if was_read(neck, number) else {"stroke_dasharray": "3 4"}
    canvas.line("string", start, end, stroke_width=1.5 if faint else 2.5, data_string=number, **dashed)
    canvas.text((end[0] - 4, end[1] - 8), str(number), anchor="end", weight=600)
    target, frets = of_string(neck.get("targets_12"), number), list(neck.get("fret") or [])
    if not target or 12 not in frets or None in target:
        return
    place = frets.index(12)
    x = neck["fret_x"][place] + (-4.0 if faint else 4.0)
    crown = neck["crown"][place]
    high = of_string(neck.get("heights"), number)
    # The crown under this string is lower than the middle's: the height read says by how much.
    under = string_at(neck, number, neck["fret_x"][place]) - high[place] if high and high[place] is not None else crown
    low_at, high_at = frame.at(x, under + target[0]), frame.at(x, under + target[1])
    canvas.add("rect", "target", x=low_at[0] - 4, y=high_at[1], width=8, height=max(1.0, low_at[1] - high_at[1]))


def string_at(neck, number, x):
    (x0, z0), (x1, z1) = line_of(neck, number)
    return z0 + (z1 - z0) * (x - x0) / (x1 - x0)


def draw_relief(canvas, frame, neck, said):
    relief = neck.get("relief")
    if relief is None or len(neck["fret_x"]) < 3:
        return
    first, last = neck["fret_x"][0], neck["fret_x"][-1]
    middle = (first + last) / 2
    canvas.line("guide", frame.at(first, neck["crown"][0]), frame.at(last, neck["crown"][-1]))
    top = frame.at(middle, (neck["crown"][0] + neck["crown"][-1]) / 2)
    canvas.text((top[0], 20), f"relief {said.length(relief)}", anchor="middle", weight=600)
    canvas.line("measure", top, (top[0], top[1] + relief * frame.per_mm_up))


def says(neck, outer, said):
    relief = neck.get("relief")
    parts = [
        f"The neck's relief is {said.length(relief)}" if relief is not None
        else "The neck's relief is not read yet: it is drawn straight"
    ]  # fmt: skip
    frets = list(neck.get("fret") or [])
    if 12 in frets:
        place = frets.index(12)
        for number in outer:
            heights = of_string(neck.get("heights"), number)
            if not was_read(neck, number):
                parts.append(f"string {number} is not read yet and is drawn after the others")
            elif heights and heights[place] is not None:
                parts.append(f"string {number} stands {said.length(heights[place])} over fret 12")
    return f"{'; '.join(parts)}."
