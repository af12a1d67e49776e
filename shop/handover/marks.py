"""The marks that an instrument had when it came, in words and drawn on its outline."""

from dataclasses import dataclass

from django.template.loader import render_to_string

from shop.handover.pictures import Picture, picture_of_svg
from shop.instruments.kinds import Hand
from shop.orders.marks import numbered
from shop.orders.models import Photo
from shop.orders.outlines import HEIGHT, WIDTH


@dataclass(frozen=True)
class Mark:
    """One mark with its number on the drawing, and the place that it is nearest to."""

    number: int
    side: str
    place: str
    note: str
    across: float
    down: float
    photo: Photo | None = None


def marks_of(order):
    """The order's Marks, numbered as on its page. One query."""
    marks = numbered(order.marks.select_related("photo"), order.instrument.hand)
    return [_drawn(one.number, one.mark, one.place) for one in marks]


def _drawn(number, one, place):
    return Mark(number, one.side, place, one.note, one.x * WIDTH, one.y * HEIGHT, one.photo)


def outlines_of(order, marks):
    """Pictures of those sides of the instrument that have marks."""
    return [_outline(order.instrument, side, marks) for side in ("front", "back") if any(m.side == side for m in marks)]


def _outline(instrument, side, marks) -> Picture:
    own = [one for one in marks if one.side == side]
    shown = {
        "shape": f"orders/outlines/_{instrument.kind}.html", "marks": own,
        "side": side, "is_turned": (side == "back") != (instrument.hand == Hand.LEFT),
    }  # fmt: skip
    says = "; ".join(f"{one.number}, {one.place}: {one.note}" for one in own)
    return picture_of_svg(render_to_string("papers/outline.svg", shown), f"{side.capitalize()} with marks: {says}")
