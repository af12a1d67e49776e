"""What the two families with a bridge on two posts share."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families.parts import Step

SPRING = (
    "The retaining spring sits at the end of the screw's travel. "
    "Riding along the thread it limits travel and can snap."
)
CRESTS = (f.needed(f.CREST_BASS), f.needed(f.CREST_TREBLE))
EDGE = (f.CREST_TO_EDGE, f.EDGE_GAP)


def height(loose):
    return s.height_step(
        "Bridge height, both sides",
        do="Turn both thumbwheels until the outer strings stand at their heights over fret 12. "
        "The bridge alone sets string height; the tailpiece does not.",
        cautions=(loose, "Slacken a little before you raise a loaded thumbwheel: threads and posts bend."),
        extra=(f.CREST_BASS, f.CREST_TREBLE),
    )


def saddles(loose):
    return Step(
        "saddles", "Saddle seating and direction",
        do="See which way each saddle faces and how far it can still go back. Screw and spring sit where they should.",
        cautions=(SPRING, loose),
        fields=(
            f.needed(f.FACING), f.ROOM_BACK, f.yes_no("saddles_seated", "saddles sit firm, springs in place"),
        ),
        checks=("saddle_direction", "saddle_travel", "saddles_seated"),
        drawings=("saddles",),
        why_order="A saddle that must be turned round is turned before its octave is set.",
        rests_on=("stringing",),
    )  # fmt: skip


INTONATION = s.intonation_step(
    do="Tune, read the octave, slacken, move the saddle by what is said, tune, read again.",
    cautions=("Slacken the string before its saddle screw is turned.",),
    fields=(f.ROOM_BACK,),
    rests_on=("saddle_facing",),
)
UPRIGHT = f.yes_no("bridge_upright", "bridge stands upright, posts straight")
