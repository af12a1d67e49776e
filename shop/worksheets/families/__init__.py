"""Bridge families: which steps a worksheet has, which readings, and what each step rests on. One file per family."""

from shop.worksheets.families import two_post_stop
from shop.worksheets.families.parts import Family, Field, Place, Step

__all__ = ["FAMILIES", "Family", "Field", "Place", "Step", "family_for"]

FAMILIES = {one.key: one for one in (two_post_stop.FAMILY,)}


def family_for(key):
    """The family of that key, or None when the shop has no worksheet for such bridges."""
    return FAMILIES.get(str(key))
