"""What a part of the model needs and does not have."""

from shop.instruments.specification import BY_KEY


class Lacking(Exception):
    """A part cannot be worked out. The message is a sentence that says what it needs."""


def label(key):
    """What the instrument's record calls a value."""
    return BY_KEY[key].label if key in BY_KEY else key


def spec_values(sheet, *keys):
    """The specification's values, in order; Lacking names those that are not known or cannot be."""
    found = [believed(sheet, key) for key in keys]
    missing = [label(key) for key, value in zip(keys, found, strict=True) if value is None]
    if missing:
        raise Lacking(f"The instrument's record lacks: {', '.join(missing)}.")
    return found


def believed(sheet, key):
    """A value of the specification within its believable bounds, or None."""
    value, field = sheet.spec_value(key), BY_KEY[key]
    return value if value is not None and field.low <= value <= field.high else None
