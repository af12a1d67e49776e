"""Drawings as images: on paper quicker to set than shapes in the page itself."""

import base64
from dataclasses import dataclass


@dataclass(frozen=True)
class Picture:
    """The address of an image, with its words."""

    address: str
    says: str


def picture_of_svg(svg, says):
    packed = base64.b64encode(svg.encode()).decode()
    return Picture(f"data:image/svg+xml;base64,{packed}", says)


def picture_of(drawing):
    """A Picture of a Drawing; None when there is nothing drawn."""
    return picture_of_svg(drawing.svg, drawing.sentence) if drawing is not None and drawing.svg else None
