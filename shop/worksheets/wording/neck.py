"""Words for relief, nut and the strings' load."""

from shop.worksheets.wording.said import newtons

NUT_WHY = "The nut decides how hard the first frets are to press, and how sharp they sound; the bridge cannot mend it."
LOAD_WHY = "Note, length and string alone set it: neither bridge height nor break angle changes the pull for a pitch."


def relief_why(judged):
    if judged.goal is not None and judged.value > judged.goal:
        return "Too much bow raises the strings in the middle of the board and stretches them when fretted."
    return "With too little bow, or a back-bow, the strings buzz at the first frets."


def relief_move(said, judged):
    """Which way the rod goes, and by how much the bow should change."""
    goal = judged.goal
    if goal is None or goal == judged.value:
        return ""
    change = said.length(abs(goal - judged.value))
    if judged.value > goal:
        return f"Tighten the truss rod until the bow is {change} less. A little at a time; tune, and read again."
    return f"Loosen the truss rod until the bow is {change} more. A little at a time; tune, and read again."


def nut_move(said, judged, slot_per_gap):
    """What to do with the slot. `slot_per_gap` is slot movement per gap; None leaves the figure to the gap."""
    goal = judged.goal
    if goal is None:
        return ""
    apart = abs(goal - judged.value)
    by = said.length(apart * slot_per_gap) if slot_per_gap else ""
    if judged.value > goal:
        return f"Lower the slot by {by}." if by else f"Lower the slot until the gap is {said.length(apart)} less."
    amount = f" by {by}" if by else ""
    return f"Filing cannot mend this: the slot has to come up{amount}. Fill it and cut it again, or make a new nut."


def load(load):
    return f"The strings pull {newtons(load.total)} in all."


def load_change(change_n):
    more = "more" if change_n > 0 else "less"
    bow = "bows forward a little more" if change_n > 0 else "straightens a little"
    return (
        f"That is {abs(change_n):.0f} N {more} than with the strings it left with last time: "
        f"the neck {bow}, so relief is read after they have settled."
    )

