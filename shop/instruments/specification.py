"""The measurable specification of an instrument: what each value is called, its unit and bounds, what is typical.

A typical value stands in until somebody measures; whoever uses it is told that it is assumed. The typical
values are common practice, no source.
"""

from dataclasses import dataclass, field

from shop.instruments.kinds import BridgeFamily

NECK, BRIDGE, TAIL = "neck and fingerboard", "bridge", "tailpiece"
TWO_POST = {BridgeFamily.TWO_POST_STOP, BridgeFamily.TWO_POST_FIXED}
SCREW_SADDLES = TWO_POST | {BridgeFamily.FLAT_PLATE, BridgeFamily.VIBRATO, BridgeFamily.HEADLESS}
# Bridges that are raised, filed or pushed at two ends without being one on two posts.
ANCHORED = {BridgeFamily.PINNED, BridgeFamily.TIED, BridgeFamily.FLOATING}
TWO_ENDS = ANCHORED | {BridgeFamily.WRAPAROUND, BridgeFamily.VIBRATO}


@dataclass(frozen=True)
class SpecField:
    """One measurable value. `low` and `high` bound what is believable; `typical` maps kind to the usual value."""

    key: str
    label: str
    place: str  # where on the instrument it is measured
    unit: str  # mm, deg or none
    low: float
    high: float
    typical: dict = field(default_factory=dict)  # by kind; "" is any kind
    families: frozenset = frozenset(BridgeFamily)
    help: str = ""

    def typical_for(self, kind):
        return self.typical.get(str(kind), self.typical.get(""))


def _field(key, label, unit, low, high, *, place=NECK, families=None, note="", usual=None, **by_kind):
    typical = dict(by_kind)
    if usual is not None:
        typical[""] = usual
    return SpecField(key, label, place, unit, low, high, typical, frozenset(families or BridgeFamily), note)


FIELDS = (
    _field("scale_bass_mm", "scale, bass side", "mm", 300, 900, usual=628.0, steel=645.0, nylon=650.0, bass=864.0,
           note="Nut to fret 12, doubled, along the lowest string."),
    _field("scale_treble_mm", "scale, treble side", "mm", 300, 900, usual=628.0, steel=645.0, nylon=650.0, bass=864.0,
           note="The same as the bass side unless the frets are fanned."),
    _field("fret_count", "frets", "none", 5, 36, usual=22, steel=20, nylon=19, bass=20),
    _field("body_joint_fret", "body joins at fret", "none", 5, 26, usual=16, steel=14, nylon=12, bass=16),
    _field("board_radius_nut_mm", "board radius at the nut", "mm", 100, 5000, usual=305.0, steel=400.0, nylon=5000.0,
           note="Write the largest value for a flat board."),
    _field("board_radius_end_mm", "board radius at the last fret", "mm", 100, 5000, usual=305.0, steel=400.0,
           nylon=5000.0, note="The same as at the nut unless the radius is conical."),
    _field("spread_nut_mm", "outer strings apart at the nut", "mm", 15, 80, usual=35.5, steel=36.5, nylon=43.0,
           bass=31.0),
    _field("neck_tilt_deg", "fret plane's tilt to the top", "deg", -2, 8, usual=3.0, steel=1.0, nylon=0.5, bass=1.0,
           archtop=3.5, note="How far the strings' plane falls towards the nut, seen against the body's top."),
    _field("spread_bridge_mm", "outer strings apart at the bridge", "mm", 20, 140, usual=51.0, steel=54.0, nylon=58.0,
           bass=57.0, place=BRIDGE),
    _field("post_span_mm", "bridge posts apart", "mm", 40, 160, usual=74.0, families=TWO_POST, place=BRIDGE),
    _field("bridge_span_mm", "bridge's two adjusters apart", "mm", 40, 200, usual=74.0, steel=72.0, nylon=80.0,
           families=TWO_ENDS, place=BRIDGE,
           note="Post to post, stud to stud, or where the saddle is filed at its two ends."),
    _field("edge_behind_crest_mm", "rear edge behind the crest", "mm", 0.5, 25, usual=6.0, families=TWO_POST,
           note="From a saddle's crest at mid-travel back to the bridge's rear upper edge.", place=BRIDGE),
    _field("edge_below_crest_mm", "rear edge below the crest", "mm", 0.1, 15, usual=2.5,
           families=TWO_POST, place=BRIDGE),
    _field("saddle_turn_mm", "crest moves when a saddle is turned round", "mm", 0, 5, usual=2.0,
           families=TWO_POST, place=BRIDGE),
    _field("saddle_travel_mm", "saddle screw's whole travel", "mm", 1, 40, usual=9.0,
           families=SCREW_SADDLES, place=BRIDGE),
    _field("groove_half_angle_deg", "saddle groove, half angle", "deg", 10, 80, usual=40.0,
           families=TWO_POST, place=BRIDGE),
    _field("stud_span_mm", "tailpiece studs apart", "mm", 40, 160, usual=82.0,
           families={BridgeFamily.TWO_POST_STOP}, place=TAIL),
    _field("tail_run_mm", "crest to string's exit at the tailpiece", "mm", 8, 200, usual=40.0, families=TWO_POST,
           note="Level distance from the crest back to where the string leaves the tailpiece.", place=TAIL),
    _field("exit_above_stud_mm", "string's exit above the stud reading", "mm", -5, 25, usual=5.0,
           families={BridgeFamily.TWO_POST_STOP},
           note="Stud height is read from the top to the underside of the tailpiece.", place=TAIL),
    _field("wrap_radius_mm", "tailpiece bar, radius at the wrap", "mm", 2, 15, usual=6.5,
           families={BridgeFamily.TWO_POST_STOP}, place=TAIL),
    _field("tail_exit_height_mm", "string's exit above the top", "mm", 0, 60, usual=8.0,
           families={BridgeFamily.TWO_POST_FIXED}, place=TAIL),
    _field("anchor_run_mm", "crest to where the string is held", "mm", 3, 250, usual=20.0, steel=9.0, nylon=10.0,
           archtop=110.0, families=ANCHORED, place=TAIL,
           note="Level distance back to the front edge of pin hole, tie hole or tailpiece."),
    _field("anchor_height_mm", "string above the top where it is held", "mm", 0, 60, usual=8.0, steel=9.0, nylon=8.5,
           archtop=12.0, families=ANCHORED, place=TAIL),
)
BY_KEY = {one.key: one for one in FIELDS}


def fields_for(family):
    """The fields that an instrument with this bridge family has, in the order in which one measures them."""
    return [one for one in FIELDS if family in one.families]
