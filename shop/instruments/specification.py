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
ON_PLATES = {BridgeFamily.FLAT_PLATE, BridgeFamily.VIBRATO, BridgeFamily.HEADLESS}
IN_PAIRS = frozenset({8, 10, 12})  # as many strings may lie in pairs


@dataclass(frozen=True)
class SpecField:
    """One measurable value. `low` and `high` bound what is believable; `typical` maps kind to the usual value.

    `counts` are the numbers of strings for which it is asked, empty for any; `by_count` the usual value for a number of
    strings, before that of the kind.
    """

    key: str
    label: str
    place: str  # where on the instrument it is measured
    unit: str  # mm, deg or none
    low: float
    high: float
    typical: dict = field(default_factory=dict)  # by kind; "" is any kind
    families: frozenset = frozenset(BridgeFamily)
    help: str = ""
    counts: frozenset = frozenset()
    by_count: dict = field(default_factory=dict)

    def typical_for(self, kind, strings=6):
        return self.by_count.get(strings, self.typical.get(str(kind), self.typical.get("")))


def _field(
    key, label, unit, low, high, *, place=NECK, families=None, note="", usual=None, counts=(), by_count=None, **by_kind
):  # fmt: skip
    typical = dict(by_kind)
    if usual is not None:
        typical[""] = usual
    return SpecField(
        key, label, place, unit, low, high, typical, frozenset(families or BridgeFamily), note, frozenset(counts),
        by_count or {},
    )  # fmt: skip


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
    _field("rod_reach_mm", "relief that the rod can still change", "mm", 0, 3,
           note="From where it stands to where it resists or goes slack; 0 without a rod. Leave it when unknown."),
    _field("neck_give_mm", "relief that 100 N of pull makes", "mm", 0, 1,
           note="Relief at pitch less relief with all strings slack, times 100 N, over the strings' whole pull."),
    _field("pair_gap_nut_mm", "strings of a pair apart at the nut", "mm", 0, 8, usual=0.0, other=1.5, counts=IN_PAIRS,
           by_count={12: 1.8}, note="Middle to middle; 0 where strings lie singly."),
    _field("spread_bridge_mm", "outer strings apart at the bridge", "mm", 20, 140, usual=51.0, steel=54.0, nylon=58.0,
           bass=57.0, place=BRIDGE),
    _field("pair_gap_bridge_mm", "strings of a pair apart at the bridge", "mm", 0, 12, usual=0.0, other=1.9,
           counts=IN_PAIRS, by_count={12: 2.3}, place=BRIDGE, note="Middle to middle; 0 where strings lie singly."),
    _field("post_span_mm", "bridge posts apart", "mm", 40, 160, usual=74.0, families=TWO_POST, place=BRIDGE),
    _field("bridge_span_mm", "bridge's two ends apart", "mm", 40, 200, usual=74.0, steel=72.0, nylon=80.0,
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
    _field("wrap_radius_mm", "bar, radius at the wrap", "mm", 2, 15, usual=6.5,
           families={BridgeFamily.TWO_POST_STOP, BridgeFamily.WRAPAROUND}, place=TAIL),
    _field("wrap_run_mm", "crest to the middle of the wrap", "mm", 4, 40, usual=11.0,
           families={BridgeFamily.WRAPAROUND}, place=TAIL,
           note="Level distance from a crest back to the middle of the round that the string wraps over."),
    _field("wrap_drop_mm", "middle of the wrap below the crest", "mm", 2, 30, usual=8.5,
           families={BridgeFamily.WRAPAROUND}, place=TAIL,
           note="The casting's own: it goes up and down with the studs."),
    _field("hole_run_mm", "crest to where the string is held or bends down", "mm", 3, 90, usual=14.0, bass=18.0,
           families=ON_PLATES, place=TAIL,
           note="Level, back to the hole that leads through the body or block, to the hole of a top-loading plate, or "
           "to the clamp or ball of a headless tuner."),
    _field("hole_height_mm", "string above the top there", "mm", -5, 40, usual=7.0, families=ON_PLATES, place=TAIL,
           note="A hole through the body lies lower than one in the plate's rear edge: measure the one in use."),
    _field("tail_exit_height_mm", "string's exit above the top", "mm", 0, 60, usual=8.0,
           families={BridgeFamily.TWO_POST_FIXED}, place=TAIL),
    _field("anchor_run_mm", "crest to where the string is held", "mm", 3, 250, usual=20.0, steel=9.0, nylon=10.0,
           archtop=110.0, families=ANCHORED, place=TAIL,
           note="Level distance back to the front edge of pin hole, tie hole or tailpiece."),
    _field("anchor_height_mm", "string above the top where it is held", "mm", 0, 60, usual=8.0, steel=9.0, nylon=8.5,
           archtop=12.0, families=ANCHORED, place=TAIL),
)
BY_KEY = {one.key: one for one in FIELDS}


def fields_for(family, strings=6):
    """The fields that an instrument of this bridge family and number of strings has, in the order of measuring."""
    return [one for one in FIELDS if family in one.families and (not one.counts or strings in one.counts)]
