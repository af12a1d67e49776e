"""Two-post bridge with a separate stop tailpiece on studs."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families.parts import Family, Step

LOOSE = (
    "Bridge and tailpiece are held by string pull alone: take strings off in turn, and protect the top. "
    "With all strings slack both fall off."
)
SLOTTED = (
    "Slotted studs are wide: a screwdriver that does not fill the slot chips them. "
    "Use one that fits, or a soft flat tool."
)
SPRING = (
    "The retaining spring sits at the end of the screw's travel. "
    "Riding along the thread it limits travel and can snap."
)

INSPECT = Step(
    "inspect", "As received: look, and read before anything is touched",
    do="Tune to the customer's pitch and read everything as it came. Turn nothing yet.",
    cautions=(s.TENSION,),
    fields=tuple(
        f.received(one)
        for one in (
            f.SEASON,
            f.needed(f.RELIEF),
            f.NUT_GAP,
            f.needed(f.HEIGHT_12, required_on="outer"),
            f.needed(f.CREST_BASS),
            f.needed(f.CREST_TREBLE),
            f.needed(f.STUD_BASS),
            f.needed(f.STUD_TREBLE),
            f.needed(f.OCTAVE),
            f.FACING,
            f.ROOM_BACK,
        )
    ),
    checks=(
        "as_received", "relief", "nut_gap", "height_12", "break_angle", "edge_clearance", "stud_window",
        "stud_difference", "octave", "saddle_travel",
    ),
    drawings=("bridge_side", "neck"),
    why_order="Once something is turned, nobody can say how it came.",
)  # fmt: skip

HEIGHT = Step(
    "height", "Bridge height, both sides",
    do="Turn both thumbwheels until the outer strings stand at their heights over fret 12. "
    "The bridge alone sets string height; the tailpiece does not.",
    cautions=(LOOSE, "Slacken a little before you raise a loaded thumbwheel: threads and posts bend."),
    fields=(f.needed(f.HEIGHT_12, required_on="outer"), f.CREST_BASS, f.CREST_TREBLE),
    checks=("height_12",),
    drawings=("neck",),
    why_order="Height comes before the tailpiece, because raising the bridge steepens every string behind it.",
    rests_on=("relief", "nut_gap", "strings_fitted"),
)  # fmt: skip

ARCH = Step(
    "arch", "Arch of the saddles",
    do="Read every string at fret 12, not only the outer two, and compare the crests with the board's radius.",
    cautions=("A slot can be cut lower, never higher: cut last, and little.", s.DUST),
    fields=(f.HEIGHT_12,),
    checks=("arch",),
    drawings=("arch",),
    why_order="Both posts shift the whole arch, so its shape is judged once they are set.",
    rests_on=("relief", "nut_gap"),
)  # fmt: skip

TAIL = Step(
    "tail", "Tailpiece height",
    do="Turn both studs by equal amounts until every string bends over its crest and clears the bridge's rear edge.",
    cautions=(SLOTTED, LOOSE, "A tailpiece lower on one side loads and leans its studs."),
    fields=(f.CREST_BASS, f.CREST_TREBLE, f.STUD_BASS, f.STUD_TREBLE, f.CREST_TO_EDGE, f.EDGE_GAP),
    checks=("break_angle", "edge_clearance", "stud_window", "stud_difference"),
    drawings=("bridge_side", "stud_window"),
    why_order="After the bridge: the tailpiece does not set string height, it sets the angle over the saddles.",
    rests_on=("height_12", "crest_height_bass", "crest_height_treble", "stringing"),
)  # fmt: skip

SADDLES = Step(
    "saddles", "Saddle seating and direction",
    do="See which way each saddle faces and how far it can still go back. Screw and spring sit where they should.",
    cautions=(
        SPRING,
        LOOSE,
    ),
    fields=(
        f.needed(f.FACING),
        f.ROOM_BACK,
        f.yes_no("saddles_seated", "saddles sit firm, springs in place"),
    ),
    checks=("saddle_direction", "saddle_travel", "saddles_seated"),
    drawings=("saddles",),
    why_order="A saddle that must be turned round is turned before its octave is set.",
    rests_on=("stringing",),
)  # fmt: skip

INTONATION = Step(
    "intonation", "Intonation, string by string",
    do="Tune, read the octave, slacken, move the saddle by what is said, tune, read again.",
    cautions=("Slacken the string before its saddle screw is turned.", s.TENSION),
    fields=(f.OCTAVE, f.ROOM_BACK),
    checks=("octave", "saddle_travel"),
    drawings=("saddles", "octave"),
    why_order="Height, relief and nut all change how far a fretted string is stretched: the octave comes after them.",
    rests_on=("relief", "nut_gap", "height_12", "saddle_facing"),
)  # fmt: skip

AS_LEFT = (
    f.needed(f.RELIEF),
    f.NUT_GAP,
    f.needed(f.HEIGHT_12, required_on="outer"),
    f.needed(f.CREST_BASS),
    f.needed(f.CREST_TREBLE),
    f.needed(f.STUD_BASS),
    f.needed(f.STUD_TREBLE),
    f.needed(f.OCTAVE),
)
MEASURED = tuple(one.key for one in AS_LEFT)

FAMILY = Family(
    "two_post_stop",
    (
        INSPECT,
        s.strings_step(
            do="Change strings one after another, stretch each, tune to pitch.", extra=(LOOSE,)
        ),
        s.RELIEF,
        s.NUT,
        HEIGHT,
        ARCH,
        TAIL,
        SADDLES,
        INTONATION,
        s.ELECTRICS,
        s.play_step(f.yes_no("bridge_upright", "bridge stands upright, posts straight")),
        s.left_step(
            *AS_LEFT,
            checks=("as_left", "relief", "nut_gap", "height_12", "break_angle", "edge_clearance", "stud_window",
                    "stud_difference", "octave"),
            rests_on=(*MEASURED, "stringing", "saddle_facing", "saddle_room_back", "crest_to_edge"),
        ),
    ),
)  # fmt: skip
