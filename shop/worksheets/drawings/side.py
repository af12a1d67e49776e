"""One string from the side: over its crest, past the bridge's rear edge, down to the tailpiece. One scale both ways.

The outlines of bridge and tailpiece are a sketch around the numbers; crest, rear edge, string and exit are to scale.
"""

import math

from shop.worksheets.drawings.canvas import IN_MM, Canvas, Drawing, Frame, cannot
from shop.worksheets.wording.said import degrees

TITLE = "The string at the bridge, from the side"
WIDTH, HEIGHT, NO_EDGE_HEIGHT = 380, 372, 222
VIEW = (6, 24, WIDTH - 12, 160)
CLOSE = (1, 232, WIDTH - 2, 104)  # the rear edge, enlarged
FRONT_MM = 9.0
BAR_MM = 5.0  # half the height of the sketched tailpiece
NEEDED = ("crest", "exit", "run", "front_fall_deg")


def bridge_side(numbers, *, mirrored=False, said=IN_MM, only=None):
    """Every string over the bridge; one is shown in full, the others faintly.

    Each string's own lines are a group with `data-string`, the one shown first wearing the class 'is-shown'. `only`
    draws that string's group and no other, for paper. The view is the same for either hand.
    """
    strings = complete(numbers)
    if not strings:
        return cannot(TITLE, numbers, "side")
    shown = only if only in strings else worst(strings)
    sentence = says(strings[shown], shown, said)
    height = HEIGHT if any(has_edge(one) for one in strings.values()) else NO_EDGE_HEIGHT
    canvas = Canvas(WIDTH, height, name="side", title=TITLE, says=sentence)
    frame = frame_for(strings.values())
    canvas.line("guide", (0, frame.at(0, 0)[1]), (WIDTH, frame.at(0, 0)[1]))
    canvas.text((WIDTH - 4, frame.at(0, 0)[1] + 19), "top of the body", role="soft", anchor="end")
    for one in strings.values():
        canvas.path("faint", route(frame, one))
    for number, one in strings.items():
        if only is None or number == shown:
            draw_string(canvas, frame, number, one, said, shown=number == shown)
    canvas.scale_bar((6, frame.at(0, 0)[1] + 14), frame.per_mm, most=90)
    sentences = tuple((number, says(one, number, said)) for number, one in strings.items())
    return Drawing(TITLE, sentence, canvas.svg, sentences, shown)


def complete(numbers):
    """{string: its numbers} of the strings whose lines are all known."""
    side = numbers.get("side") or {}
    found = {}
    for place, number in enumerate(numbers.get("strings", [])):
        one = {key: values[place] for key, values in side.items() if isinstance(values, list) and len(values) > place}
        if all(one.get(key) is not None for key in NEEDED):
            found[number] = one | {"range": side.get("break_range_deg"), "least": side.get("clearance_least")}
    return found


def has_edge(one):
    """Whether the bridge has a rear edge that the string might touch."""
    return one.get("edge") is not None and one.get("edge_behind") is not None


def worst(strings):
    """The string nearest to lying on the edge, or the first."""
    known = {number: one["clearance"] for number, one in strings.items() if one.get("clearance") is not None}
    return min(known, key=known.get) if known else next(iter(strings))


def frame_for(strings):
    strings = list(strings)
    longest = max(one["run"] for one in strings) + 2.4 * BAR_MM
    highest = max(one["crest"] for one in strings) + 2.5
    return Frame.fit(VIEW, (-FRONT_MM, longest), (0.0, highest))


def route(frame, one):
    """The string's line: from the front over the crest, over the edge if it lies there, to its exit."""
    fall = math.tan(math.radians(one["front_fall_deg"]))
    places = [(-FRONT_MM, one["crest"] - FRONT_MM * fall), (0.0, one["crest"])]
    if one.get("on_edge"):
        places.append((one["edge_behind"], one["edge"]))
    return [frame.at(*place) for place in [*places, (one["run"], one["exit"])]]


def draw_string(canvas, frame, number, one, said, *, shown):
    canvas.open(class_="dg-one is-shown" if shown else "dg-one", data_string=number)
    draw_bridge(canvas, frame, one)
    draw_tail(canvas, frame, one)
    canvas.path("amiss" if one.get("on_edge") else "string", route(frame, one), stroke_width=2.5)
    draw_angle(canvas, frame, one)
    canvas.text((4, 18), f"string {number}", weight=700)
    if has_edge(one):
        draw_closer(canvas, one, said)
    canvas.close()


def draw_bridge(canvas, frame, one):
    """A sketch of bridge and saddle that touches crest and rear edge where they are."""
    if not has_edge(one):
        draw_saddle_alone(canvas, frame, one)
        return
    behind, edge, crest = one["edge_behind"], one["edge"], one["crest"]
    base = max(1.5, edge - 7.0)
    block = [(-behind, base), (-behind, edge - 0.8), (-behind + 0.8, edge), (behind, edge), (behind, base)]
    canvas.path("metal", [frame.at(*place) for place in block], closed=True)
    saddle = [(-1.8, edge), (-0.2, crest - 0.1), (0.0, crest), (0.25, crest - 0.15), (0.6, edge)]
    canvas.path("metal", [frame.at(*place) for place in saddle], closed=True)
    post = [(-1.4, 0), (-1.4, base), (1.4, base), (1.4, 0)]
    canvas.path("metal", [frame.at(*place) for place in post], closed=True)


def draw_saddle_alone(canvas, frame, one):
    """Where the bridge has no edge to touch: the saddle under its crest, and what carries it."""
    crest = one["crest"]
    floor = max(0.0, crest - 6.0)
    block = ((-5.0, 0.0), (-5.0, floor), (5.0, floor), (5.0, 0.0))
    canvas.path("body", [frame.at(*place) for place in block], closed=True)
    saddle = [(-1.6, floor), (-1.2, crest - 0.5), (0.0, crest), (1.0, crest - 0.6), (1.4, floor)]
    canvas.path("metal", [frame.at(*place) for place in saddle], closed=True)


def draw_tail(canvas, frame, one):
    if not has_edge(one):
        draw_anchor(canvas, frame, one)
        return
    x, z = frame.at(one["run"], one["exit"])
    radius = BAR_MM * frame.per_mm
    canvas.add("rect", "metal", x=x, y=z - radius * 0.75, width=radius * 2, height=radius * 1.5, rx=radius * 0.7)
    post_x, post_z = frame.at(one["run"] + BAR_MM, 0)
    canvas.add("rect", "metal", x=post_x - frame.per_mm, y=z + radius * 0.75, width=2 * frame.per_mm,
               height=max(0.0, post_z - z - radius * 0.75))  # fmt: skip


def draw_anchor(canvas, frame, one):
    """Where nothing is turned: the round that the string wraps over, or the hole or hanger that holds it."""
    radius, fall = one.get("bar_radius") or 0.0, math.radians(one.get("rear_fall_deg") or 0.0)
    if radius:
        middle = frame.at(one["run"] - radius * math.sin(fall), one["exit"] - radius * math.cos(fall))
        canvas.dot("metal", middle, radius * frame.per_mm)
        return
    wide = [one["run"], one["run"] + 3.0]
    low = min(0.0, one["exit"])
    corners = [(wide[0], low), (wide[0], one["exit"]), (wide[1], one["exit"]), (wide[1], low)]
    canvas.path("metal", [frame.at(*place) for place in corners], closed=True)


def draw_angle(canvas, frame, one):
    """The angle between the string's line continued over the crest and where it really goes."""
    if one.get("break_deg") is None:
        return
    up = math.radians(one["front_fall_deg"])
    down = up - math.radians(one["break_deg"])
    x, z = frame.at(0.0, one["crest"])
    reach = 74.0
    ahead = (x + reach * math.cos(up), z - reach * math.sin(up))
    after = (x + reach * math.cos(down), z - reach * math.sin(down))
    canvas.line("guide", (x, z), (ahead[0] + 16 * math.cos(up), ahead[1] - 16 * math.sin(up)))
    arc = f"M{ahead[0]:.2f} {ahead[1]:.2f}A{reach} {reach} 0 0 1 {after[0]:.2f} {after[1]:.2f}"
    canvas.add("path", "measure", d=arc)
    outside = one["range"] and not within(one["break_deg"], *one["range"])
    role = "amiss-label" if outside else "label"
    canvas.text((ahead[0] + 22, ahead[1] + 2), degrees(one["break_deg"]), role=role, weight=600)


def draw_closer(canvas, one, said):
    """The same crest and rear edge, enlarged, with how far the string passes over the edge."""
    left, top, width, height = CLOSE
    behind, edge, crest = one["edge_behind"], one["edge"], one["crest"]
    frame = Frame.fit((left, top + 8, width, height - 8), (-2.5, behind + 3.5), (edge - 0.6, crest + 0.4))
    floor = top + height
    body = [frame.at(-2.5, edge), frame.at(behind, edge)]
    canvas.path("metal", [(body[0][0], floor), *body, (body[1][0], floor)], closed=True)
    saddle = [(-1.8, edge), (-0.12, crest - 0.08), (0.0, crest), (0.15, crest - 0.1), (0.5, edge)]
    canvas.path("metal", [frame.at(*place) for place in saddle], closed=True)
    canvas.path("amiss" if one.get("on_edge") else "string", close_route(frame, one), stroke_width=3)
    draw_clearance(canvas, frame, one, said)
    canvas.scale_bar((left + 5, CLOSE[1] + CLOSE[3] + 28), frame.per_mm, most=60)


def close_route(frame, one):
    """The string within the enlarged view, cut where the view ends."""
    fall, behind = math.tan(math.radians(one["front_fall_deg"])), one["edge_behind"]
    knee = (behind, one["edge"]) if one.get("on_edge") else (0.0, one["crest"])
    slope = (one["exit"] - knee[1]) / (one["run"] - knee[0])
    end = (behind + 3.5, knee[1] + slope * (behind + 3.5 - knee[0]))
    over = [knee] if one.get("on_edge") else []
    return [frame.at(*place) for place in [(-2.5, one["crest"] - 2.5 * fall), (0.0, one["crest"]), *over, end]]


def draw_clearance(canvas, frame, one, said):
    gap = one.get("clearance")
    if gap is None:
        return
    edge, over = (frame.at(one["edge_behind"], one["edge"] + rise) for rise in (0.0, max(gap, 0.0)))
    short = one.get("on_edge") or (one["least"] is not None and gap < one["least"])
    canvas.line("amiss" if short else "measure", edge, over, data_gap_mm=gap)
    canvas.dot("amiss" if short else "measure", edge, 4)
    words = "lies on the rear edge" if one.get("on_edge") else f"{said.length(gap)} over the rear edge"
    canvas.text((4, CLOSE[1] - 4), words, role="amiss-label" if short else "label", weight=700)


def within(value, low, high):
    return (low is None or value >= low) and (high is None or value <= high)


def says(one, number, said):
    """The drawing in a sentence."""
    parts = [f"String {number}"]
    if one.get("break_deg") is not None:
        parts.append(f"bends by {degrees(one['break_deg'])} over its crest, which stands {said.length(one['crest'])} "
                     "above the top")  # fmt: skip
    if one.get("on_edge"):
        parts.append("lies on the bridge's rear edge")
    elif one.get("clearance") is not None:
        parts.append(f"clears the bridge's rear edge by {said.length(one['clearance'])}")
    return f"{parts[0]} {' and '.join(parts[1:])}." if len(parts) > 1 else f"{parts[0]} over the bridge."
