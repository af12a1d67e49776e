"""The saddles from above: where each crest is in its travel, which way it faces, and the move advised."""

from shop.worksheets.drawings.canvas import IN_MM, Canvas, Drawing, cannot

TITLE = "The saddles from above"
WIDTH, ROW = 380, 46
LEFT, RIGHT, TOP = 42, 16, 44
HALF = 13  # half the width of a drawn saddle, in drawing units: across the strings nothing is to scale
SADDLE_MM = 2.0


def saddles_from_above(numbers, *, mirrored=False, said=IN_MM):
    """One track a string, the nut to the left and the tail to the right; along the strings to scale.

    The bass string is uppermost, as the player of a right-handed instrument looks down on it; mirrored, the treble.
    """
    rows = known_rows(numbers)
    if not rows:
        return cannot(TITLE, numbers, "saddles")
    rows = rows[::-1] if mirrored else rows
    sentence = says(rows, said)
    height = TOP + ROW * len(rows) + 34
    canvas = Canvas(WIDTH, height, name="saddles", title=TITLE, says=sentence)
    longest = max(row["travel"] for row in rows)
    per_mm = (WIDTH - LEFT - RIGHT - 70) / (longest + 2 * SADDLE_MM)
    canvas.text((LEFT, 20), "← nut", role="soft")
    canvas.text((WIDTH - RIGHT, 20), "tail →", role="soft", anchor="end")
    for place, row in enumerate(rows):
        draw_track(canvas, row, TOP + ROW * (place + 0.5), per_mm, longest)
    canvas.scale_bar((LEFT, height - 12), per_mm, most=90)
    return Drawing(TITLE, sentence, canvas.svg)


def known_rows(numbers):
    saddles = numbers.get("saddles") or {}
    lists = {key: values for key, values in saddles.items() if isinstance(values, list)}
    rows = []
    for place, number in enumerate(numbers.get("strings", [])):
        one = {key: values[place] for key, values in lists.items() if len(values) > place}
        if one.get("room_back") is None and one.get("facing") is None:
            continue
        room = one.get("room_back")
        travel = one.get("travel")
        rows.append({"number": number, "room": room if room is not None else 0.0, "is_read": room is not None,
                     "travel": max(travel or 0.0, room or 0.0, 1.0), "facing": one.get("facing"),
                     "move": one.get("move"), "reaches": one.get("reaches"), "turn": one.get("turn")})  # fmt: skip
    return rows


def draw_track(canvas, row, y, per_mm, longest):
    """The slot in which the crest can travel, the saddle in it, and the arrow to where it should go."""
    end = LEFT + (longest + SADDLE_MM) * per_mm
    start = end - row["travel"] * per_mm
    canvas.text((8, y + 6), str(row["number"]), weight=700)
    canvas.line("faint", (LEFT - 10, y), (WIDTH - RIGHT, y))
    canvas.add("rect", "metal", x=start, y=y - 4, width=end - start, height=8, rx=4)
    crest = end - row["room"] * per_mm
    draw_saddle(canvas, row, crest, y, per_mm)
    if row["move"]:
        goal = crest + row["move"] * per_mm
        role = "amiss" if row["reaches"] is False else "advised"
        canvas.line(role, (goal, y - HALF - 3), (goal, y + HALF + 3), stroke_dasharray="3 3")
        canvas.arrow(role, (crest, y + HALF + 4), (goal, y + HALF + 4))
    words, role = remark(row)
    canvas.text((WIDTH - 2, y - 8), words, role=role, anchor="end")


def draw_saddle(canvas, row, crest, y, per_mm):
    """A saddle's crest is one of its faces; the slope runs away from it to the other side."""
    depth = SADDLE_MM * per_mm * (-1 if row["facing"] != "flat_front" else 1)
    if row["facing"]:
        body = [(crest, y - HALF), (crest + depth, y - HALF + 4), (crest + depth, y + HALF - 4), (crest, y + HALF)]
        canvas.path("metal", body, closed=True)
    canvas.line("string", (crest, y - HALF), (crest, y + HALF), stroke_width=3, data_string=row["number"])


def remark(row):
    if row["reaches"] is False:
        return ("turn round" if row["turn"] else "out of reach"), "amiss-label"
    if row["turn"]:
        return "turn round", "advised-label"
    return "", "soft"


def says(rows, said):
    parts = []
    for row in rows:
        if row["move"] and row["reaches"] is not False:
            way = "back" if row["move"] > 0 else "forward"
            parts.append(f"string {row['number']}, {said.length(abs(row['move']))} {way}")
        elif row["reaches"] is False:
            parts.append(f"string {row['number']} does not reach")
    if not parts:
        return "Where each saddle's crest is within its travel."
    return f"Moves advised: {'; '.join(parts)}."
