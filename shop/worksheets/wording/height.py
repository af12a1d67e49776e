"""Words for string height and the saddles' arch."""

WHY = "Too high is hard to play and pulls fretted notes sharp; too low buzzes. The bridge alone sets it, "
BOTH_ENDS = f"{WHY}on both sides together."
ONE_BY_ONE = f"{WHY}each string at its own saddle."
ARCH_WHY = "Strings that do not follow the board's arch feel uneven under the hand, and the lowest of them buzz first."


def by_half(said, judged):
    """What the crest has to do when the posts cannot be worked out."""
    goal = judged.goal
    if goal is None:
        return ""
    way = "lower" if judged.value > goal else "higher"
    by = said.length(2 * abs(goal - judged.value))
    return f"The crest has to come {by} {way}: about half of it arrives at fret 12."


def slot_first(turning):
    if turning:
        return f"{turning} That does not mend this string: look at the arch afterwards."
    return "The outer strings are right, so this is the saddle's own: look at the arch."


def cut_slot(said, cut, turning):
    return f"Cut this slot {said.length(cut)} lower.{f' {turning}' if turning else ''}"


def too_low(said, by, others, turning):
    """A slot that is too low: what else can be done, since it cannot be raised."""
    first = f"This slot is {said.length(by)} too low, and a slot can be cut lower but never higher."
    if not others:
        return f"{first} It needs another saddle."
    return f"{first} Either another saddle, or cut {others}.{f' Then: {turning}' if turning else ''}"

