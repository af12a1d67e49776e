"""The section at the saddles: each crest against the arch that equal heights over this board need."""

from shop.worksheets.drawings.canvas import IN_MM, Canvas, Drawing, Frame, cannot, signed, span

TITLE = "The arch of the crests against the board"
WIDTH, HEIGHT = 380, 236
BOX = (30, 44, WIDTH - 60, HEIGHT - 130)
CROWDED = 8  # more strings than this have their figures in two lines, and smaller
ALLOWED_MM = 0.25  # where a label turns red when the sheet gives no range of its own


def arch_section(numbers, *, mirrored=False, said=IN_MM):
    """Seen from the nut, bass on the left (on the right when mirrored); heights drawn larger than widths."""
    arch = numbers.get("arch") or {}
    rows = known_rows(numbers.get("strings", []), arch)
    if len(rows) < 2:
        return cannot(TITLE, numbers, "arch")
    sentence = says(rows, said)
    canvas = Canvas(WIDTH, HEIGHT, name="arch", title=TITLE, says=sentence)
    side = -1 if mirrored else 1
    frame = frame_of(rows, side)
    needed = [frame.at(side * y, need) for _, y, _, need, _ in rows]
    canvas.path("aim", sorted(needed))
    for place, row in enumerate(rows):
        row = (*row, place % 2 if len(rows) > CROWDED else None)
        draw_crest(canvas, frame, row, side, said, allowed=arch.get("range") or (-ALLOWED_MM, ALLOWED_MM))
    canvas.text((WIDTH / 2, HEIGHT - 40), "too low +   ·   too high −", role="soft", anchor="middle")
    canvas.scale_bar((30, HEIGHT - 12), frame.per_mm, most=80)
    canvas.scale_bar((WIDTH - 84, HEIGHT - 8), frame.per_mm_up, upright=True, most=34)
    return Drawing(TITLE, sentence, canvas.svg)


def known_rows(strings, arch):
    lists = [arch.get(key) or [] for key in ("lateral", "crest", "needed", "correction")]
    rows = list(zip(strings, *lists, strict=False))
    return [row for row in rows if None not in row[1:4]]


def frame_of(rows, side):
    across = span([side * row[1] for row in rows])
    heights = span([one for row in rows for one in row[2:4]], 0.15)
    return Frame.stretch(BOX, across, heights)


def draw_crest(canvas, frame, row, side, said, *, allowed):
    number, y, crest, need, correction, line = row
    x, z = frame.at(side * y, crest)
    wanted = frame.at(side * y, need)
    canvas.line("measure", wanted, (x, z))
    canvas.dot("present", (x, z), 6, data_string=number)
    small = {} if line is None else {"size": 14}
    canvas.text((x, 20 if not line else 36), str(number), anchor="middle", weight=700, **small)
    if correction is not None:
        low, high = allowed
        fits = (low is None or correction >= low) and (high is None or correction <= high)
        words = signed(said, correction).removesuffix(" mm").removesuffix(" in")
        at = (x, HEIGHT - (66 if line is None else 78 - 16 * line))
        canvas.text(at, words, role="label" if fits else "amiss-label", anchor="middle", **small)


def says(rows, said):
    moved = [row for row in rows if row[4] is not None]
    if not moved:
        return "Crests against the arch that this board needs."
    most = max(moved, key=lambda row: abs(row[4]))
    if abs(most[4]) < 0.005:
        return "Every crest lies on the arch that this board needs."
    way = "low" if most[4] > 0 else "high"
    return f"Furthest from the arch that this board needs is string {most[0]}: {said.length(abs(most[4]))} too {way}."
