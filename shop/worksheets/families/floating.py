"""Floating bridge with a trapeze tailpiece: thumbwheels for height, the bridge's place on the top for intonation."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families.parts import ENDS, FIXED, Adjuster, Family

LOOSE = (
    "The bridge is held by string pull alone: mark its place with tape before a string is slackened, change strings in "
    "turn, and protect the top."
)
CRESTS = (f.needed(f.CREST_BASS), f.needed(f.CREST_TREBLE))

FAMILY = Family(
    "floating",
    (
        s.inspect_step(*CRESTS, f.needed(f.OCTAVE), checks=("break_angle", "octave"),
                       drawings=("bridge_side", "neck")),
        s.strings_step(do="Mark the bridge's place. Change strings one after another, stretch, tune.", extra=(LOOSE,)),
        s.RELIEF,
        s.NUT,
        s.height_step(
            "Bridge height, both thumbwheels",
            do="Turn both thumbwheels until the outer strings stand at their heights over fret 12.",
            cautions=(LOOSE,), extra=(f.CREST_BASS, f.CREST_TREBLE),
        ),
        s.arch_step("Arch of the bridge's top"),
        s.angle_step(
            do="Read the crests over the top, and see that every string bends enough over the bridge.",
            cautions=("A trapeze hangs on its hinge: with all strings slack it swings onto the top.",),
        ),
        s.intonation_step(
            do="Tune, read every octave, slacken a little, push both ends of the bridge as said, tune, read again.",
            cautions=(LOOSE, "Keep the bridge's feet flat on the top: a tilted one bends and buzzes."),
        ),
        s.HARDWARE,
        s.play_step(f.yes_no("bridge_upright", "bridge stands upright, feet flat on the top")),
        s.left_step(*CRESTS, f.needed(f.OCTAVE), checks=("break_angle", "octave")),
    ),
    height=Adjuster(ENDS, "posts", span_key="bridge_span_mm", thread="post"),
    along=Adjuster(ENDS, "bridge_ends", span_key="bridge_span_mm"),
    tail=FIXED,
    tail_spec=("anchor_run_mm", "anchor_height_mm"),
    has_edge=False,
    steeper="A tailpiece that sits lower, on its hinge or by a longer hanger, takes the strings further down behind.",
    shallower="A tailpiece that sits higher, or another saddle, takes some of the angle away.",
)  # fmt: skip
