"""One-piece wraparound bridge on two studs: height at the studs, intonation by a set screw at each side."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families.parts import ENDS, Adjuster, Family

LOOSE = (
    "The bridge hooks on its studs by string pull alone: take strings off in turn, and protect the top. "
    "With all strings slack it falls off."
)
SCREWS = (f.needed(f.SCREW_BASS), f.needed(f.SCREW_TREBLE))

FAMILY = Family(
    "wraparound",
    (
        s.inspect_step(f.needed(f.OCTAVE), *SCREWS, checks=("octave",), drawings=("neck", "octave")),
        s.strings_step(
            do="Change strings one after another: in from the front, over the top. Stretch each, tune to pitch.",
            extra=(LOOSE,),
        ),
        s.RELIEF,
        s.NUT,
        s.height_step(
            "Bridge height, both studs",
            do="Turn both studs until the outer strings stand at their heights over fret 12. "
            "They set height and nothing else: the wrap, and so the angle, is the casting's own.",
            cautions=(LOOSE, "Slacken before you turn a loaded stud: a slot chips and a thread strips."),
        ),
        s.arch_step("Arch of the ridge"),
        s.intonation_step(
            do="Tune, read every octave, slacken, turn both set screws by what is said, tune, read again.",
            cautions=("The set screws only push the bridge back from its studs: slacken the strings first.",),
            fields=(f.SCREW_BASS, f.SCREW_TREBLE),
        ),
        s.ELECTRICS,
        s.play_step(f.yes_no("bridge_upright", "bridge sits against both set screws, studs straight")),
        s.left_step(f.needed(f.OCTAVE), *SCREWS, checks=("octave",)),
    ),
    height=Adjuster(ENDS, "studs", span_key="bridge_span_mm", thread="post"),
    along=Adjuster(ENDS, "set_screws", span_key="bridge_span_mm", thread="saddle"),
    tail="",
    has_edge=False,
)  # fmt: skip
