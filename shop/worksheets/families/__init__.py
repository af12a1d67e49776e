"""Bridge families: which steps a worksheet has, which readings, and what each step rests on. One file per family."""

from shop.worksheets.families import (
    flat_plate,
    floating,
    headless,
    pinned,
    tied,
    two_post_fixed,
    two_post_stop,
    vibrato,
    wraparound,
)
from shop.worksheets.families.parts import Family, Field, Place, Step

__all__ = ["FAMILIES", "Family", "Field", "Place", "Step", "family_for"]

FILES = (two_post_stop, two_post_fixed, wraparound, flat_plate, vibrato, pinned, tied, floating, headless)
FAMILIES = {one.FAMILY.key: one.FAMILY for one in FILES}


def family_for(key):
    """The family of that key, or None when the shop has no worksheet for such bridges."""
    return FAMILIES.get(str(key))
