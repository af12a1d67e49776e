"""Drawings to scale, made from the same numbers as the checks: pure functions from plain numbers to SVG text.

Every drawing carries its colours as presentation attributes, so that it prints as it is; on screen the classes of
static/css/diagram.css take over. A drawing whose numbers are not known yet says what it needs instead.
"""

from shop.worksheets.drawings.arch import arch_section
from shop.worksheets.drawings.canvas import IN_MM, Drawing
from shop.worksheets.drawings.history import history_chart
from shop.worksheets.drawings.maps import buzz_field, cents_field
from shop.worksheets.drawings.neck import neck_heights
from shop.worksheets.drawings.octave import octave_rounds
from shop.worksheets.drawings.ranges import range_bar
from shop.worksheets.drawings.saddles import saddles_from_above
from shop.worksheets.drawings.side import bridge_side
from shop.worksheets.drawings.window import stud_window

__all__ = [
    "DRAWINGS", "Drawing", "arch_section", "bridge_side", "buzz_field", "cents_field", "drawing_of", "history_chart",
    "neck_heights", "octave_rounds", "parts_of", "range_bar", "saddles_from_above", "stud_window",
]  # fmt: skip

# By the names that the steps use.
DRAWINGS = {
    "bridge_side": bridge_side,
    "stud_window": stud_window,
    "arch": arch_section,
    "saddles": saddles_from_above,
    "neck": neck_heights,
    "octave": octave_rounds,
    "buzz": buzz_field,
    "cents": cents_field,
}


# What a drawing needs of the numbers, beside what every evaluation has.
PARTS = {
    "bridge_side": "side", "stud_window": "window", "arch": "arch", "saddles": "saddles", "neck": "neck",
    "buzz": "buzz", "cents": "cents",
}  # fmt: skip


def parts_of(names):
    """The parts of the numbers that the drawings `names` are made from."""
    return {PARTS[name] for name in names if name in PARTS}


def drawing_of(name, numbers, *, mirrored=False, said=None):
    """The drawing `name` of an evaluation's numbers, or None for a name that is no drawing.

    `mirrored` draws a left-handed instrument as its player sees it; `said` says lengths in the workshop's unit.
    """
    draw = DRAWINGS.get(name)
    return draw(numbers, mirrored=mirrored, said=said or IN_MM) if draw else None
