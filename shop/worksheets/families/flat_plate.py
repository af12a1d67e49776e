"""Flat plate with individual saddles: two small screws for height and one along, a saddle for each string."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families.parts import FIXED, STRINGS, Adjuster, Family

LEVEL = "Both screws of a saddle stand on the plate, and the saddle stands level: one that carries nothing rattles."

FAMILY = Family(
    "flat_plate",
    (
        s.inspect_step(
            f.CREST_BASS, f.CREST_TREBLE, f.needed(f.OCTAVE), f.ROOM_BACK,
            checks=("break_angle", "octave", "saddle_travel"), drawings=("bridge_side", "neck", "octave"),
        ),
        s.strings_step(do="Change the strings, stretch each, tune to pitch.", extra=(
            "A string that goes through the body has to reach its ferrule: pull it home before you tune.",)),
        s.RELIEF,
        s.NUT,
        s.height_step(
            "Height of every saddle",
            do="Turn both height screws of each saddle alike until every string stands at its height over fret 12.",
            cautions=(LEVEL,), every_string=True,
        ),
        s.angle_step(
            do="Nothing is turned here: read the crests over the top, and see that every string bends enough.",
            cautions=("A string that lies on the plate on its way down is bent twice: look at each from the side.",),
        ),
        s.intonation_step(
            do="Tune, read the octave, slacken, move the saddle by what is said, tune, read again.",
            fields=(f.ROOM_BACK,),
        ),
        s.ELECTRICS,
        s.play_step(f.yes_no("saddles_seated", "saddles level, no screw loose")),
        s.left_step(f.needed(f.OCTAVE), checks=("break_angle", "octave"), rests_on=("saddle_room_back",)),
    ),
    height=Adjuster(STRINGS, "saddle_screws", thread="post"),
    tail=FIXED,
    tail_spec=("hole_run_mm", "hole_height_mm"),
    angle_target="break_angle_plate",
    has_edge=False,
    steeper=(
        "Lead the strings through the body where the plate allows it: the hole lies lower than one in the "
        "plate's rear edge. Else a shim in the neck's pocket lets the saddles stand higher."
    ),
    shallower=(
        "Load the strings from the plate's rear edge where it has holes there, or set neck and saddles lower "
        "together."
    ),
)  # fmt: skip
