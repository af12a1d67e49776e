"""Charts drawn to be looked at: columns by month, lying bars, and spans around zero. Words carry what colour shows."""

from dataclasses import dataclass
from decimal import Decimal

from django.utils.html import escape
from django.utils.safestring import SafeString

from shop.lib.templatetags.said import MONTHS

WIDTH, HEIGHT = 440, 236
LEFT, RIGHT, TOP, BOTTOM = 46, 8, 16, 26
SIZE = 14
STEPS = (1, 2, 2.5, 5, 10)


@dataclass(frozen=True)
class Part:
    """One series: its name, the look it is drawn in (a class of figures.css), and a value a month."""

    name: str
    look: str
    values: list


def round_top(most):
    """(top, step) of an axis that holds `most` in at most five steps, whole and round."""
    most = float(most) or 1.0
    size = 1.0
    while size * 10 * 4 < most:
        size *= 10
    while size * STEPS[0] * 4 > most and size > 1:
        size /= 10
    step = next((size * one for one in STEPS if size * one * 4 >= most), size * 10)
    step = max(step, 1.0)
    count = -(-most // step)
    return step * max(count, 1), step


class Drawn:
    """A little writer of SVG whose looks are classes of the style sheet, so that dim light and paper follow."""

    def __init__(self, name, title, says, height=HEIGHT, width=WIDTH):
        self.name, self.title, self.says, self.width, self.height = name, title, says, width, height
        self.parts = []

    def add(self, tag, look, **values):
        said = "".join(f' {key.replace("_", "-")}="{_short(value)}"' for key, value in values.items())
        self.parts.append(f'<{tag} class="{look}"{said}/>')

    def bar(self, look, x, y, width, height, told=""):
        inner = f"<title>{escape(told)}</title>" if told else ""
        where = f'x="{_short(x)}" y="{_short(y)}" width="{_short(width)}" height="{_short(height)}"'
        self.parts.append(f'<rect class="{look}" {where}>{inner}</rect>')

    def text(self, x, y, words, *, anchor="start", look="fg-words"):
        where = f'x="{_short(x)}" y="{_short(y)}" text-anchor="{anchor}" font-size="{SIZE}"'
        self.parts.append(f'<text class="{look}" {where}>{escape(words)}</text>')

    @property
    def svg(self):
        head = (
            f'<svg class="fg" viewBox="0 0 {self.width} {_short(self.height)}" role="img" '
            f'aria-labelledby="{self.name}-t {self.name}-d"><title id="{self.name}-t">{escape(self.title)}</title>'
            f'<desc id="{self.name}-d">{escape(self.says)}</desc>'
        )
        return SafeString(head + "".join(self.parts) + "</svg>")  # every word in it was escaped


def columns(name, title, says, months, parts, *, side_by_side=False, shown=str):
    """Columns a month: `parts` stand on each other, or beside each other. `shown` writes a value."""
    drawn = Drawn(name, title, says)
    values = [part.values for part in parts]
    heights = [max(one) if side_by_side else sum(one) for one in zip(*values, strict=True)] or [0]
    top, step = round_top(max(heights))
    floor, tall = HEIGHT - BOTTOM, HEIGHT - TOP - BOTTOM
    _rules(drawn, top, step, floor, tall)
    wide = (WIDTH - LEFT - RIGHT) / max(1, len(months))
    for number, month in enumerate(months):
        x = LEFT + number * wide
        column = [part.values[number] for part in parts]
        _column(drawn, x, wide, column, parts, month, (floor, tall / top, side_by_side, shown))
        if _is_named(number, len(months)):
            drawn.text(x + wide / 2, HEIGHT - 8, MONTHS[month.month] + _year(month, number), anchor="middle")
    drawn.add("line", "fg-floor", x1=LEFT, y1=floor, x2=WIDTH - RIGHT, y2=floor)
    return drawn.svg


def _column(drawn, x, wide, column, parts, month, scale):
    floor, per_one, side_by_side, shown = scale
    gap = min(3.0, wide * 0.18)
    each = (wide - gap) / (len(parts) if side_by_side else 1)
    y = floor
    for number, (value, part) in enumerate(zip(column, parts, strict=True)):
        height = max(0.0, float(value) * per_one)
        if not height:
            continue
        told = f"{MONTHS[month.month]} {month.year}, {part.name}: {shown(value)}"
        left = x + gap / 2 + (number * each if side_by_side else 0)
        drawn.bar(part.look, left, (floor if side_by_side else y) - height, each, height, told)
        y -= height


def _rules(drawn, top, step, floor, tall):
    count = int(top / step + 0.5)
    for number in range(1, count + 1):
        y = floor - tall * number / count
        drawn.add("line", "fg-rule", x1=LEFT, y1=y, x2=WIDTH - RIGHT, y2=y)
        drawn.text(LEFT - 6, y + 5, _thousands(step * number), anchor="end", look="fg-soft")


def _is_named(number, count):
    every = 1 if count <= 6 else 2 if count <= 12 else 4 if count <= 24 else 12
    return number % every == (0 if count <= 6 else every // 2)


def _year(month, number):
    return f" {month.year % 100:02d}" if month.month <= 2 or number < 2 else ""


def lying(name, title, says, rows, *, shown=str):
    """Bars that lie below their names: `rows` are (name, value, what is said at its end)."""
    each = 40
    drawn = Drawn(name, title, says, height=max(1, len(rows)) * each + 4)
    most = max([float(value) for _, value, _ in rows] or [1]) or 1
    for number, (words, value, end) in enumerate(rows):
        y = number * each
        drawn.text(0, y + 14, words if len(words) < 44 else words[:42] + "…")
        drawn.text(WIDTH, y + 14, end, anchor="end", look="fg-soft")
        drawn.bar("fg-a", 0, y + 20, max(1, WIDTH * max(0.0, float(value)) / most), 12, f"{words}: {shown(value)}")
    return drawn.svg


def spans(name, title, says, rows):
    """Spans around zero, each on a scale of its own: `rows` are (name, least, mean, most, unit)."""
    each, left, right = 66, 16, WIDTH - 16
    drawn = Drawn(name, title, says, height=max(1, len(rows)) * each + 6)
    for number, (words, least, mean, most, unit) in enumerate(rows):
        y = number * each
        reach = max(abs(least), abs(most), 1e-6)
        at = lambda value, reach=reach: (left + right) / 2 + (right - left) / 2 * value / reach  # noqa: E731
        drawn.text(0, y + 14, words)
        drawn.text(WIDTH, y + 14, f"mean {signed(mean)} {unit}", anchor="end", look="fg-soft")
        drawn.add("line", "fg-rule", x1=left, y1=y + 32, x2=right, y2=y + 32)
        drawn.add("line", "fg-floor", x1=at(0), y1=y + 22, x2=at(0), y2=y + 42)
        drawn.bar("fg-span", at(least), y + 27, max(2, at(most) - at(least)), 10, f"{signed(least)} to {signed(most)}")
        drawn.add("circle", "fg-mean", cx=at(mean), cy=y + 32, r=7)
        drawn.text(left - 16, y + 56, signed(-reach), look="fg-soft")
        drawn.text(right + 16, y + 56, signed(reach), anchor="end", look="fg-soft")
    return drawn.svg


def signed(value):
    return f"{value:+.2f}".replace("-", "−")


def _short(value):
    if isinstance(value, float | Decimal):
        return f"{float(value):.2f}".rstrip("0").rstrip(".")
    return escape(value)


def _thousands(value):
    return f"{value / 1000:g}k" if value >= 10_000 else f"{value:g}"
