"""One-piece wraparound bridge on two studs: height at the studs, intonation by a set screw at each side."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families.parts import ENDS, WRAP, Adjuster, Family

LOOSE = (
    "The bridge hooks on its studs by string pull alone: take strings off in turn, and protect the top. "
    "With all strings slack it falls off."
)
SCREWS = (f.needed(f.SCREW_BASS), f.needed(f.SCREW_TREBLE))

FAMILY = Family(
    "wraparound",
    (
        s.inspect_step(
            f.CREST_BASS, f.CREST_TREBLE, f.needed(f.OCTAVE), *SCREWS, checks=("break_angle", "octave"),
            drawings=("bridge_side", "neck", "octave"),
        ),
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
        s.angle_step(
            do="Nothing is turned here: the wrap is the casting's own. See that every string bends over its crest.",
            cautions=(LOOSE,),
        ),
        s.intonation_step(
            do="Tune, read every octave, slacken, turn both set screws by what is said, tune, read again.",
            cautions=("The set screws only push the bridge back from its studs: slacken the strings first.",),
            fields=(f.SCREW_BASS, f.SCREW_TREBLE),
        ),
        s.ELECTRICS,
        s.play_step(f.yes_no("bridge_upright", "bridge sits against both set screws, studs straight")),
        s.left_step(f.needed(f.OCTAVE), *SCREWS, checks=("break_angle", "octave")),
    ),
    height=Adjuster(ENDS, "studs", span_key="bridge_span_mm", thread="post"),
    along=Adjuster(ENDS, "set_screws", span_key="bridge_span_mm", thread="saddle"),
    tail=WRAP,
    tail_spec=("wrap_run_mm", "wrap_drop_mm", "wrap_radius_mm"),
    angle_target="break_angle_plate",
    has_edge=False,
    steeper="Studs change nothing here: only another casting, with its crests higher over the wrap or nearer to it, "
    "bends the strings more. Crests that were filed down give less.",
    shallower="Studs change nothing here: only another casting, with its crests lower over the wrap, bends them less.",
)  # fmt: skip
