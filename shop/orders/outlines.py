"""The drawings that condition marks are tapped onto, and the places on them that can be named instead of tapped.

A drawing is 200 wide and 600 high, head up, seen from the front or the back. A mark's x and y are fractions of it.
"""

from shop.instruments.kinds import Hand

WIDTH, HEIGHT = 200, 600
# Named places on the front of a right-handed instrument. From the back, and left-handed, the sides change over.
PLACES = {
    "head": ("head", 0.5, 0.075),
    "neck-low": ("neck, first frets", 0.5, 0.22),
    "neck-high": ("neck, last frets", 0.5, 0.43),
    "shoulder-bass": ("shoulder, bass side", 0.3, 0.6),
    "shoulder-treble": ("shoulder, treble side", 0.7, 0.6),
    "middle": ("middle of the body", 0.5, 0.68),
    "waist-bass": ("waist, bass side", 0.29, 0.7),
    "waist-treble": ("waist, treble side", 0.71, 0.7),
    "lower-bass": ("lower body, bass side", 0.24, 0.84),
    "lower-treble": ("lower body, treble side", 0.76, 0.84),
    "bridge": ("bridge", 0.5, 0.82),
    "end": ("end of the body", 0.5, 0.945),
}
PLACE_CHOICES = [(key, label) for key, (label, _, _) in PLACES.items()]


def place_at(key, *, side, hand):
    """(x, y) of the named place on that side of an instrument for that hand."""
    _, x, y = PLACES[key]
    turned = (side == "back") != (hand == Hand.LEFT)
    return (1 - x if turned else x), y


def place_name(x, y, *, side, hand):
    """What the named place nearest to (x, y) is called: for lists, papers and screen readers."""
    turned = (side == "back") != (hand == Hand.LEFT)
    x = 1 - x if turned else x
    # The drawing is three times as high as it is wide, so a step in y is three steps in x.
    label, _, _ = min(PLACES.values(), key=lambda place: (place[1] - x) ** 2 + (3 * (place[2] - y)) ** 2)
    return label
