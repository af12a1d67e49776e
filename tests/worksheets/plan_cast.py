"""Sheets that a plan is made from. All values are invented."""

from tests.worksheet_builders import SIX, sheet, spec, strings

HEIGHTS = (2.6, 2.5, 2.4, 2.3, 2.2, 2.0)
TWELVE = tuple(
    (number, midi, "plain_steel" if number < 6 or number % 2 else "wound_nickel", thick, core)
    for number, midi, thick, core in (
        (12, 40, 1.17, 0.46), (11, 52, 0.66, 0.36), (10, 45, 0.91, 0.41), (9, 57, 0.46, None), (8, 50, 0.66, 0.36),
        (7, 62, 0.30, None), (6, 55, 0.56, 0.3), (5, 67, 0.20, None), (4, 59, 0.33, None), (3, 59, 0.33, None),
        (2, 64, 0.25, None), (1, 64, 0.25, None),
    )
)  # fmt: skip


def received(numbers=range(6, 0, -1), **each):
    """{'received.height_12:6': …} from one value a string; a single number is the same for every string."""
    found = {}
    for key, values in each.items():
        listed = values if isinstance(values, tuple | list) else [values] * len(numbers)
        found |= {f"received.{key}:{n}": v for n, v in zip(numbers, listed, strict=True) if v is not None}
    return found


def high(**changes):
    """A two-post bridge with everything too high, octaves off, the tailpiece low."""
    values = {
        "received.relief": 0.45, "received.crest_height_bass": 15.5, "received.crest_height_treble": 14.8,
        "received.stud_bass": 6.0, "received.stud_treble": 6.0,
    } | received(
        height_12=HEIGHTS, nut_gap=(0.3, 0.2, 0.15, 0.15, 0.15, 0.15), octave=(5.0, -3.0, 2.0, 1.0, 0.0, 4.0),
        saddle_room_back=(1.0, 2.0, 3.0, 4.0, 5.0, 6.0),
    )  # fmt: skip
    return sheet(values | changes)


__all__ = ["HEIGHTS", "SIX", "TWELVE", "high", "received", "sheet", "spec", "strings"]
