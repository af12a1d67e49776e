"""Two-post bridge with a separate stop tailpiece on studs."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families import two_post as bridge
from shop.worksheets.families.parts import Family, Step

LOOSE = (
    "Bridge and tailpiece are held by string pull alone: take strings off in turn, and protect the top. "
    "With all strings slack both fall off."
)
SLOTTED = (
    "Slotted studs are wide: a screwdriver that does not fill the slot chips them. "
    "Use one that fits, or a soft flat tool."
)
STUDS = (f.needed(f.STUD_BASS), f.needed(f.STUD_TREBLE))
TAIL_CHECKS = ("break_angle", "edge_clearance", "stud_window", "stud_difference")

TAIL = Step(
    "tail", "Tailpiece height",
    do="Turn both studs by equal amounts until every string bends over its crest and clears the bridge's rear edge.",
    cautions=(SLOTTED, LOOSE, "A tailpiece lower on one side loads and leans its studs."),
    fields=(f.CREST_BASS, f.CREST_TREBLE, f.STUD_BASS, f.STUD_TREBLE, *bridge.EDGE),
    checks=TAIL_CHECKS,
    drawings=("bridge_side", "stud_window"),
    why_order="After the bridge: the tailpiece does not set string height, it sets the angle over the saddles.",
    rests_on=("height_12", "crest_height_bass", "crest_height_treble", "stringing"),
)  # fmt: skip

FAMILY = Family(
    "two_post_stop",
    (
        s.inspect_step(
            *bridge.CRESTS, *STUDS, f.needed(f.OCTAVE), f.FACING, f.ROOM_BACK,
            checks=(*TAIL_CHECKS, "octave", "saddle_travel"), drawings=("bridge_side", "neck"),
        ),
        s.strings_step(do="Change strings one after another, stretch each, tune to pitch.", extra=(LOOSE,)),
        s.RELIEF,
        s.NUT,
        bridge.height(LOOSE),
        s.arch_step(),
        TAIL,
        bridge.saddles(LOOSE),
        bridge.INTONATION,
        s.ELECTRICS,
        s.play_step(bridge.UPRIGHT),
        s.left_step(
            *bridge.CRESTS, *STUDS, f.needed(f.OCTAVE), checks=(*TAIL_CHECKS, "octave"),
            rests_on=("stringing", "saddle_facing", "saddle_room_back", "crest_to_edge"),
        ),
    ),
)  # fmt: skip
