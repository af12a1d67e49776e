"""Words for what would change."""

import math

from shop.worksheets.wording.said import newtons

LEAST_N = 0.5


def load(before, after):
    if not (math.isfinite(before) and math.isfinite(after)) or not before or not after:
        return "The pull cannot be compared: note and diameter of every string are needed."
    if abs(after - before) < LEAST_N:
        return f"The strings pull {newtons(before)} in all, before and after."
    way = "more" if after > before else "less"
    apart = f"{abs(after - before):.0f} N {way}"
    return f"The strings would pull {newtons(after)} in all instead of {newtons(before)}: {apart}."


def relief(said, supposed):
    change = supposed.total - supposed.total_before
    if not math.isfinite(change) or abs(change) < LEAST_N:
        return "Relief stays."
    way = "more" if change > 0 else "less"
    if supposed.relief is None:
        return (
            f"The neck would bow a little {way}; by how much is this neck's own. Write 'relief that 100 N of pull "
            "makes' into the instrument's record, and it is worked out here."
        )
    return f"Relief would be {said.length(abs(supposed.relief))} {way}; heights and gaps below go along with it."


def window(before, after):
    return after if before == after else f"{after} As it is now: {before[:1].lower()}{before[1:]}"
