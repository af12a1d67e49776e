"""A small writer of SVG: shapes by their role, text that stays readable, a frame that maps millimetres to the page."""

from dataclasses import dataclass

from django.utils.html import escape
from django.utils.safestring import SafeString

from shop.worksheets.wording.said import Said

FONT = "'Source Sans', 'DejaVu Sans', sans-serif"
TEXT_SIZE = 18
IN_MM = Said("mm")
# How each role is drawn where no style sheet reaches, such as on paper.
INK, SOFT, BRASS, RED, GREEN = "#2a2420", "#6b6259", "#8a6414", "#a3271b", "#2f6b3c"
LOOKS = {
    "body": {"fill": "#ece2d2", "stroke": "#b9a78c", "stroke-width": 1},
    "metal": {"fill": "#d9d6d0", "stroke": "#8b867e", "stroke-width": 1},
    "string": {"fill": "none", "stroke": INK, "stroke-width": 2, "stroke-linecap": "round"},
    "faint": {"fill": "none", "stroke": "#b3a897", "stroke-width": 1},
    "guide": {"fill": "none", "stroke": SOFT, "stroke-width": 1, "stroke-dasharray": "4 4"},
    "measure": {"fill": "none", "stroke": BRASS, "stroke-width": 1.5},
    "target": {"fill": "#cfe0cd", "stroke": GREEN, "stroke-width": 1},
    "aim": {"fill": "none", "stroke": GREEN, "stroke-width": 2},
    "present": {"fill": INK, "stroke": "#ffffff", "stroke-width": 1.5},
    "came": {"fill": "#ffffff", "stroke": INK, "stroke-width": 2},
    "advised": {"fill": "none", "stroke": BRASS, "stroke-width": 2.5},
    "amiss": {"fill": "none", "stroke": RED, "stroke-width": 2.5},
    "close": {"fill": "#ffffff", "stroke": BRASS, "stroke-width": 1.5},
    "within": {"fill": SOFT, "stroke": "none"},
    "past": {"fill": RED, "stroke": "none"},
    "axis": {"fill": "none", "stroke": SOFT, "stroke-width": 1},
    "scale": {"fill": "none", "stroke": INK, "stroke-width": 2},
    "label": {"fill": INK},
    "soft": {"fill": SOFT},
    "amiss-label": {"fill": RED},
    "advised-label": {"fill": BRASS},
}


@dataclass(frozen=True)
class Drawing:
    """One drawing: `svg` (empty when it cannot be drawn), its `title`, and the same in a `sentence`."""

    title: str
    sentence: str
    svg: str = ""
    sentences: tuple = ()  # (string, its sentence), where strings are shown in full one at a time
    shown: int | None = None


def figure(value):
    """A coordinate as short as it can be without losing a hundredth."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if value % 1 else f"{value:.0f}"


def attributes(values):
    known = {name.rstrip("_").replace("_", "-"): one for name, one in values.items() if one is not None}
    return "".join(f' {name}="{escape(figure(v) if isinstance(v, float | int) else v)}"' for name, v in known.items())


class Canvas:
    """Collects shapes; `svg` gives the whole. Coordinates are drawing units, which are pixels at its usual size."""

    def __init__(self, width, height, *, name, title, says):
        self.width, self.height, self.name, self.title, self.says = width, height, name, title, says
        self.parts = []

    def add(self, tag, role="", **values):
        look = {key: value for key, value in LOOKS.get(role, {}).items() if key.replace("-", "_") not in values}
        named = {"class": f"dg-{role}"} if role else {}
        self.parts.append(f"<{tag}{attributes(named | look | values)}/>")

    def line(self, role, start, end, **values):
        (x1, y1), (x2, y2) = start, end
        self.add("line", role, x1=x1, y1=y1, x2=x2, y2=y2, **values)

    def path(self, role, points, *, closed=False, **values):
        places = " L".join(f"{figure(x)} {figure(y)}" for x, y in points)
        self.add("path", role, d=f"M{places}{'Z' if closed else ''}", **values)

    def dot(self, role, at, radius=6, **values):
        self.add("circle", role, cx=at[0], cy=at[1], r=radius, **values)

    def text(self, at, words, *, role="label", anchor="start", size=TEXT_SIZE, weight=None, **values):
        own = {"x": at[0], "y": at[1], "text-anchor": anchor, "font-size": size, "font-family": FONT,
               "font-weight": weight, "fill": LOOKS[role]["fill"]}  # fmt: skip
        self.parts.append(f'<text class="dg-{role}"{attributes(own | values)}>{escape(words)}</text>')

    def arrow(self, role, start, end, *, head=7, **values):
        """A line with an open head at its end."""
        (x1, y1), (x2, y2) = start, end
        length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
        if length < 1e-6:
            return
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        head = min(head, max(4, length))
        wings = [(x2 - head * (ux - side * uy / 2), y2 - head * (uy + side * ux / 2)) for side in (1, -1)]
        self.line(role, start, end, **values)
        self.path(role, [wings[0], end, wings[1]], **values)

    def open(self, **values):
        self.parts.append(f"<g{attributes(values)}>")

    def close(self):
        self.parts.append("</g>")

    def scale_bar(self, at, per_mm, *, upright=False, most=110):
        """A bar of a round length with that length beside it."""
        length = nice_length(most / per_mm)
        x, y = at
        end = (x, y - length * per_mm) if upright else (x + length * per_mm, y)
        ends = [((x - 4, y), (x + 4, y)), ((x - 4, end[1]), (x + 4, end[1]))] if upright else [
            ((x, y - 4), (x, y + 4)), ((end[0], y - 4), (end[0], y + 4))]  # fmt: skip
        self.line("scale", at, end, data_length_mm=length)
        for one in ends:
            self.line("scale", *one)
        says = f"{length:g} mm"
        if upright:
            self.text((x + 8, (y + end[1]) / 2 + 5), says, role="soft")
        else:
            self.text((end[0] + 8, y + 5), says, role="soft")

    @property
    def svg(self):
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="dg" viewBox="0 0 {figure(self.width)} '
            f'{figure(self.height)}" role="img" aria-labelledby="{self.name}-t {self.name}-d">'
            f'<title id="{self.name}-t">{escape(self.title)}</title>'
            f'<desc id="{self.name}-d">{escape(self.says)}</desc>'
        )
        return SafeString(head + "".join(self.parts) + "</svg>")


@dataclass(frozen=True)
class Frame:
    """Maps millimetres to drawing units: x grows to the right, height upwards."""

    left: float
    bottom: float
    x_from: float
    z_from: float
    per_mm: float
    per_mm_up: float

    def at(self, x_mm, z_mm):
        return (
            self.left + (x_mm - self.x_from) * self.per_mm,
            self.bottom - (z_mm - self.z_from) * self.per_mm_up,
        )

    @classmethod
    def fit(cls, box, x_range, z_range):
        """The largest frame with one scale both ways that fits `box` = (left, top, width, height), centred."""
        left, top, width, height = box
        wide, high = max(x_range[1] - x_range[0], 1e-6), max(z_range[1] - z_range[0], 1e-6)
        scale = min(width / wide, height / high)
        return cls(left + (width - wide * scale) / 2, top + height - (height - high * scale) / 2,
                   x_range[0], z_range[0], scale, scale)  # fmt: skip

    @classmethod
    def stretch(cls, box, x_range, z_range):
        """A frame that fills `box`, with a scale of its own upwards; the drawing must say so."""
        left, top, width, height = box
        wide, high = max(x_range[1] - x_range[0], 1e-6), max(z_range[1] - z_range[0], 1e-6)
        return cls(left, top + height, x_range[0], z_range[0], width / wide, height / high)


NICE = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200)


def nice_length(most_mm):
    """The longest round length that is not longer than `most_mm`."""
    return max((one for one in NICE if one <= most_mm), default=NICE[0])


def span(values, pad=0.0):
    """(least, most) of the values that are known, widened by `pad`; None when none is."""
    known = [one for one in values if one is not None]
    return (min(known) - pad, max(known) + pad) if known else None


def signed(said, mm):
    """A length with its sign: '+0.12 mm', '−0.30 mm'."""
    text = said.length(mm)
    return text if text.startswith("−") else f"+{text}"


def cannot(title, numbers, part):
    """A drawing that cannot be made yet, with the reason that the checks gave."""
    reason = (numbers.get("why_not") or {}).get(part) or "It is drawn once its readings are there."
    return Drawing(title, reason)
