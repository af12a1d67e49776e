"""What each reading means to the player, and what to mind at home. The shop's words, for people who do not read gauges.

Facts of the trade here are common practice, no source.
"""

# Reading keys that are told together → (heading, what it is and what it does).
READINGS = (
    (
        ("relief",),
        "The neck’s bow",
        "A string swings widest in its middle, so the neck bows forward a little to give it room. Too much makes the "
        "middle of the neck hard to play; none at all makes the first frets buzz.",
    ),
    (
        ("humidity", "temperature"),
        "The room",
        "Wood swells in damp air and shrinks in dry, and the neck goes with it: this is the air in which it was read.",
    ),
    (
        ("nut_gap",),
        "The nut",
        "How high each string lies over the first fret. It decides how easily open chords press down and whether they "
        "sound in tune.",
    ),
    (
        ("height_12",),
        "String height",
        "How high each string stands over the twelfth fret, half-way along. Lower is lighter to play; too low rattles "
        "when you play hard.",
    ),
    (
        ("crest_height_bass", "crest_height_treble"),
        "The bridge",
        "How high the bridge carries the outer strings over the top. It sets string height, each side by itself.",
    ),
    (
        ("stud_bass", "stud_treble"),
        "The tailpiece",
        "How high the tailpiece stands. It sets how steeply the strings bend over the bridge, not their height and not "
        "their tension.",
    ),
    (
        ("edge_gap",),
        "The strings behind the bridge",
        "Each string should leave its saddle freely. One that also lies on the bridge’s rear edge bends twice and "
        "tends to break there.",
    ),
    (
        ("octave",),
        "Intonation",
        "How well the fretted octave agrees with the open string, in cents: a hundredth of a semitone. Plus is sharp, "
        "minus is flat.",
    ),
    (
        ("pickup_neck_bass", "pickup_neck_treble", "pickup_bridge_bass", "pickup_bridge_treble"),
        "Pickups",
        "The gap between string and pickup, with the string held at the last fret. Closer is louder; too close pulls "
        "at the string.",
    ),
)
OTHERS = ("More that was measured", "")
FOR_THE_BENCH = frozenset({"saddle_room_back", "crest_to_edge"})  # say nothing to a player

REMARKS = {"out_of_range": "outside", "too_close": "at its limit"}  # what is in range needs none

AT_HOME = (
    "Strings are under tension: protect your eyes when you change them, and cut only slack strings.",
    "A truss rod that resists is not forced: bring the instrument in.",
    "Wood moves with heat and dry air. If the instrument has been cold, let it warm up in its case before you open it.",
)
LOOSE_BRIDGE = "The bridge is held by string pull alone: change strings one after another, or it loses its place."
AT_HOME_BY_FAMILY = {
    "two_post_stop": "Bridge and tailpiece are held by string pull alone: change strings one after another, or both "
    "may fall off.",
    "two_post_fixed": LOOSE_BRIDGE,
    "wraparound": LOOSE_BRIDGE,
    "floating": LOOSE_BRIDGE,
    "vibrato": "The bridge floats on its springs: change strings one after another, or it tips and must be set anew.",
}


def told(key):
    """(heading, explanation) of a reading."""
    for keys, heading, says in READINGS:
        if key in keys:
            return heading, says
    return OTHERS
