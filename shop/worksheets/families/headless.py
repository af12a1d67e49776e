"""Headless: tuners at the bridge, a saddle for each string with its own height and a lock along."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families.parts import FIXED, STRINGS, Adjuster, Family

LOCK = "Slacken the string before its lock screw is opened, and close it before you tune: the saddle jumps otherwise."

FAMILY = Family(
    "headless",
    (
        s.inspect_step(
            f.CREST_BASS, f.CREST_TREBLE, f.needed(f.OCTAVE), f.ROOM_BACK,
            checks=("break_angle", "octave", "saddle_travel"), drawings=("bridge_side", "neck", "octave"),
        ),
        s.strings_step(do="Change the strings, seat both ends, stretch each, tune to pitch.", extra=(
            "A clamped string slips when its clamp is not tight: cut the rest only once it holds.",)),
        s.RELIEF,
        s.NUT,
        s.height_step(
            "Height of every saddle",
            do="Turn each saddle's height screw until every string stands at its height over fret 12.",
            cautions=("Slacken a little before you raise a loaded saddle.",), every_string=True,
        ),
        s.angle_step(
            do="Nothing is turned here: read the crests over the top, and see that every string bends enough.",
            cautions=("A string that bends hard at its clamp or ball breaks there: look at each from the side.",),
        ),
        s.intonation_step(
            do="Tune, read the octave, slacken, open the lock, move the saddle as said, lock, tune, read again.",
            cautions=(LOCK,), fields=(f.ROOM_BACK,),
        ),
        s.ELECTRICS,
        s.play_step(f.yes_no("saddles_seated", "saddles locked, tuners run freely")),
        s.left_step(f.needed(f.OCTAVE), checks=("break_angle", "octave"), rests_on=("saddle_room_back",)),
    ),
    height=Adjuster(STRINGS, "saddle_screws", thread="post"),
    tail=FIXED,
    tail_spec=("hole_run_mm", "hole_height_mm"),
    angle_target="break_angle_plate",
    has_edge=False,
    steeper=(
        "The tuners hold the strings where they are: higher saddles, with a shim in the neck's pocket, are "
        "what gives more."
    ),
    shallower="Lower saddles, with the neck set to suit, take some of the angle away.",
)  # fmt: skip
