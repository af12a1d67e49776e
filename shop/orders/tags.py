"""The tag that is tied to the instrument: a label or a card, with a code that opens the order."""

import segno
from django.conf import settings
from django.urls import reverse

from shop.lib import pdf

SIZES = {"label": "label, 62 × 100 mm", "a6": "A6"}
LIMITS = {"label": 80, "a6": 130}  # letters of what came with it that fit


def address(order):
    """What the code on the tag says."""
    return f"{settings.PUBLIC_ADDRESS}{reverse('tag', args=[order.number])}"


def code(order):
    """The code as a data: address of an SVG picture. ISO/IEC 18004, level M: a seventh of it may be worn off."""
    made = segno.make(address(order), error="m", micro=False)
    return made.svg_data_uri(border=2, xmldecl=False, svgns=True, omitsize=True)


def shown(order, workshop):
    """What a tag says, for the page and for paper."""
    return {
        "order": order, "customer": order.customer, "instrument": order.instrument, "workshop": workshop,
        "code": code(order), "address": address(order),
    }  # fmt: skip


def render(orders, workshop, *, size):
    """The tags of `orders` as a PDF, a page each, in bytes. `size` is a key of SIZES. Raises PdfUnavailable."""
    context = {
        "tags": [shown(order, workshop) for order in orders], "workshop": workshop, "size": size,
        "limit": LIMITS[size],
    }  # fmt: skip
    return pdf.render_pdf("papers/tag.html", context, css=("css/paper-fonts.css", "css/tag.css", f"css/tag-{size}.css"))
