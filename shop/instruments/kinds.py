"""Kinds of instrument and of bridge, in the trade's words."""

from django.db import models


class Kind(models.TextChoices):
    ELECTRIC = "electric", "electric guitar"
    STEEL = "steel", "steel-string acoustic"
    NYLON = "nylon", "nylon-string guitar"
    BASS = "bass", "bass guitar"
    ARCHTOP = "archtop", "archtop guitar"
    OTHER = "other", "other fretted instrument"


class BridgeFamily(models.TextChoices):
    TWO_POST_STOP = "two_post_stop", "two-post bridge, separate stop tailpiece"
    TWO_POST_FIXED = "two_post_fixed", "two-post bridge, fixed tailpiece"
    WRAPAROUND = "wraparound", "one-piece wraparound bridge"
    FLAT_PLATE = "flat_plate", "flat plate with individual saddles"
    VIBRATO = "vibrato", "pivoting vibrato bridge"
    PINNED = "pinned", "pinned bridge, one saddle"
    TIED = "tied", "tied bridge"
    FLOATING = "floating", "floating bridge, trapeze tailpiece"
    HEADLESS = "headless", "headless, tuners at the bridge"


class Hand(models.TextChoices):
    RIGHT = "right", "right-handed"
    LEFT = "left", "left-handed"


class Stringing(models.TextChoices):
    THROUGH = "through", "through the tailpiece"
    WRAPPED = "wrapped", "wrapped over the tailpiece"


class Material(models.TextChoices):
    PLAIN_STEEL = "plain_steel", "plain steel"
    WOUND_NICKEL = "wound_nickel", "nickel wound on steel"
    WOUND_BRONZE = "wound_bronze", "bronze wound on steel"
    NYLON = "nylon", "nylon"
    WOUND_NYLON = "wound_nylon", "silvered wire wound on nylon"


MIN_STRINGS, MAX_STRINGS = 4, 12

# What an instrument of a kind usually has; offered when somebody chooses the kind (common practice, no source).
USUAL_FAMILY = {
    Kind.ELECTRIC: BridgeFamily.TWO_POST_STOP,
    Kind.STEEL: BridgeFamily.PINNED,
    Kind.NYLON: BridgeFamily.TIED,
    Kind.BASS: BridgeFamily.FLAT_PLATE,
    Kind.ARCHTOP: BridgeFamily.FLOATING,
    Kind.OTHER: BridgeFamily.FLOATING,
}
USUAL_STRINGS = {Kind.BASS: 4, Kind.OTHER: 4}


def usual_of(kind):
    """(bridge family, number of strings) that an instrument of `kind` usually has."""
    return USUAL_FAMILY[Kind(kind)], USUAL_STRINGS.get(Kind(kind), 6)
