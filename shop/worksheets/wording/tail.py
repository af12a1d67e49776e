"""Words for the tailpiece. They say what the geometry does and take no side on tone."""

from geometry.exits import Bound
from shop.worksheets.wording.moves import sentence
from shop.worksheets.wording.said import degrees

BREAK_WHY = (
    "Too little: the string buzzes in its groove or jumps out of it. Too much: it may lie on the bridge's rear edge, "
    "and the bridge is pushed over. Break angle changes the force on the saddle and the friction there; it does not "
    "change the tension needed for pitch."
)
EDGE_WHY = (
    "A string that also touches the bridge's rear edge bends twice; the short piece between is where it breaks, and "
    "the bridge is pushed over."
)
DIFFERENCE_WHY = "A tailpiece lower on one side loads its studs unevenly and leans them."
EMPTY_WHY = "Every string must bend enough over its crest and still clear the bridge's rear edge."
OUTSIDE = "The studs stand outside their window: not every string bends as it should and clears the rear edge."
SEE_WINDOW = "No stud setting mends every string: see the stud window."

LOW_ENOUGH = {
    Bound.LEAST_BREAK: "bends too little over its crest",
    Bound.HOLDING: "is no longer held in its groove against a strong pluck",
}
HIGH_ENOUGH = {
    Bound.MOST_BREAK: "bends too much over its crest",
    Bound.EDGE: "comes too near the bridge's rear edge",
}
WOULD = {
    Bound.LEAST_BREAK: "would bend enough over its crest",
    Bound.HOLDING: "would be held in its groove against a strong pluck",
}
ALREADY = {
    Bound.MOST_BREAK: "already bends too much over its crest",
    Bound.EDGE: "already comes too near the bridge's rear edge",
}
OPENS = {
    "wrap": "wrap the strings over the top of the tailpiece",
    "through": "run the strings through the tailpiece",
    "turn": "turn the saddle of string {} round",
    "turn_all": "turn every saddle round that stands far from the edge",
    "crest": "cut the slot of string {} lower",
}


def on_edge(said, finding, crest_deg, edge_deg, short_mm):
    """The string lies on the edge: both bends, and the short piece between."""
    return (
        f"String {finding.string} lies on the bridge's rear edge: it bends {degrees(crest_deg)} over its crest and "
        f"again {degrees(edge_deg)} on the edge, {said.length(short_mm)} behind. The straight line to the tailpiece "
        f"would pass {said.length(abs(finding.value))} below the edge."
    )


def nothing_to_turn(said, miss, way, otherwise):
    """By how much the string's way misses, and what else gives the angle."""
    return f"There is nothing to turn: the string would have to leave {said.length(miss)} {way} behind. {otherwise}"


def inside(said, numbers, window):
    """How far the studs are from the window's nearest limit, and whose it is."""
    found = window.found
    sides = (
        ("lower", found.lower_margin_mm, window.bounds.lower_by, HIGH_ENOUGH),
        ("higher", found.upper_margin_mm, window.bounds.upper_by, LOW_ENOUGH),
    )
    margin, number, way, limit = min(
        (float(margin), numbers[i], way, limits[int(by[i])])
        for way, margins, by, limits in sides
        for i, margin in enumerate(margins)
        if int(by[i]) in limits
    )
    return f"The studs stand inside their window: {said.length(margin)} {way}, and string {number} {limit}."


def empty(said, numbers, window):
    """Which string and which bound leave no setting, and by how much they miss each other."""
    low, high = int(window.found.limit_lower), int(window.found.limit_upper)
    miss = said.length(2.0 * abs(float(window.found.room_mm)))
    enough = _limit(numbers, window.bounds.upper_by, high, WOULD, "the studs would still hold in their thread")
    already = _limit(numbers, window.bounds.lower_by, low, ALREADY, "the tailpiece already lies on the top")
    return f"No stud setting suits every string: where {enough}, {already}. They miss each other by {miss}."


def _limit(numbers, by, index, said, travel):
    if index >= len(numbers):
        return travel
    return f"string {numbers[index]} {said.get(int(by[index]), 'is past its bound')}"


def opens(said, ways):
    """What would open the window; an honest sentence when nothing here would."""
    if not ways:
        return (
            "Neither the other way of stringing, nor a saddle turned round, nor a lower crest opens it: "
            "bridge, neck angle or targets do not go together."
        )
    return sentence("it would open if you " + ", or ".join(_way(said, *one) for one in ways))


def _way(said, what, string, mm):
    if what == "bridge":
        return f"{'raise' if mm > 0 else 'lower'} both posts by {said.length(abs(mm))}, as far as string height allows"
    return OPENS[what].format(string)
