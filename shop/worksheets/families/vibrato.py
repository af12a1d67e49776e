"""Pivoting vibrato bridge: pivot posts at both sides, saddles of their own, float held by springs."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families.parts import ENDS, FIXED, Adjuster, Family, Step

BALANCE = (
    "Strings and springs balance: whatever changes the one moves the plate, so tune every string again before you read."
)
EDGE = "Never turn a pivot post under full pull: it scores the edge that the bridge swings on."

FLOAT = Step(
    "float", "Where the plate floats",
    do="At pitch, set the springs until the plate stands where this player wants it, then tune and look again.",
    cautions=(BALANCE, "Springs are under tension: keep eyes and fingers clear, and lift them with a hook."),
    fields=(
        f.yes_no("plate_level", "plate stands where it should, at pitch"),
        f.note_field("plate_note", "where it stands"),
    ),
    checks=("plate_level",),
    why_order="Height, angle and octave all change with the plate, so it is set before them.",
    rests_on=("strings_fitted",),
)  # fmt: skip

FAMILY = Family(
    "vibrato",
    (
        s.inspect_step(
            f.CREST_BASS, f.CREST_TREBLE, f.needed(f.OCTAVE), f.ROOM_BACK,
            checks=("break_angle", "octave", "saddle_travel"), drawings=("bridge_side", "neck", "octave"),
        ),
        s.strings_step(
            do="Change strings one after another, or block the plate first. Stretch each, tune to pitch.",
            extra=(BALANCE,),
        ),
        FLOAT,
        s.RELIEF,
        s.NUT,
        s.height_step(
            "Bridge height, both pivot posts",
            do="Turn both pivot posts until the outer strings stand at their heights over fret 12; "
            "single strings by their saddles.",
            cautions=(EDGE, BALANCE),
        ),
        s.arch_step(
            "Arch, saddle by saddle",
            do=f"{s.EVERY_STRING} Turn both height screws of a saddle alike. Saddles without them take a shim.",
            cautions=(BALANCE,),
        ),
        s.angle_step(
            do="Nothing is turned here: read the crests over the top, and see that every string bends enough.",
            cautions=(BALANCE,),
        ),
        s.intonation_step(
            do="Tune all strings, read the octave, slacken, move the saddle by what is said, tune all, read again.",
            cautions=(BALANCE,), fields=(f.ROOM_BACK,),
        ),
        s.ELECTRICS,
        s.play_step(f.yes_no("returns", "comes back to pitch after the lever")),
        s.left_step(f.needed(f.OCTAVE), checks=("break_angle", "octave"), rests_on=("saddle_room_back", "plate_level")),
    ),
    height=Adjuster(ENDS, "posts", span_key="bridge_span_mm", thread="post"),
    tail=FIXED,
    tail_spec=("hole_run_mm", "hole_height_mm"),
    angle_target="break_angle_plate",
    has_edge=False,
    own_heights=True,
    steeper=(
        "Strings go through the block: the plate can stand higher on its posts with the neck shimmed to suit. "
        "A plate that leans forward gives less."
    ),
    shallower="A plate that stands lower, with the neck set to suit, takes some of the angle away.",
)  # fmt: skip
