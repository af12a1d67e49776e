"""Pinned bridge with one glued-in or loose saddle: height at the saddle's bottom, intonation at its top."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families.parts import ENDS, FIXED, STRINGS, Adjuster, Family

BOTTOM = "Take from the bottom only, flat and square: what is off is off. Mark the line first, and file to it."
CRESTS = (f.needed(f.CREST_BASS), f.needed(f.CREST_TREBLE))

FAMILY = Family(
    "pinned",
    (
        s.inspect_step(*CRESTS, f.needed(f.OCTAVE), checks=("break_angle", "octave"),
                       drawings=("bridge_side", "neck")),
        s.strings_step(
            do="Change the strings, seat every ball against the plate under the bridge, stretch, tune to pitch.",
            extra=("A ball that hangs on its pin's end pulls the pin out when it is tuned.",),
        ),
        s.RELIEF,
        s.NUT,
        s.height_step(
            "Saddle height, both ends",
            do="Work out what comes off the saddle's bottom, or goes under it, at each end.",
            cautions=(BOTTOM, s.DUST),
        ),
        s.arch_step("Arch of the saddle's top"),
        s.angle_step(
            do="Read the crests over the top, and see that every string bends enough over the saddle.",
            cautions=("A ramp cut too deep weakens the bridge between its pins.",),
        ),
        s.intonation_step(
            do="Tune, read every octave, and shape the saddle's top so that each crest stands where it is said.",
            cautions=(s.DUST,),
        ),
        s.HARDWARE,
        s.play_step(f.yes_no("bridge_glued", "bridge sits tight on the top, pins home")),
        s.left_step(*CRESTS, f.needed(f.OCTAVE), checks=("break_angle", "octave")),
    ),
    height=Adjuster(ENDS, "bottom", span_key="bridge_span_mm"),
    along=Adjuster(STRINGS, "top"),
    tail=FIXED,
    tail_spec=("anchor_run_mm", "anchor_height_mm"),
    has_edge=False,
    steeper="Ramp the string's way from its pin hole to the saddle, or reset the neck so that it can stand higher.",
    shallower="A saddle that stands this high leans on its slot: look at neck angle and saddle height together.",
)  # fmt: skip
