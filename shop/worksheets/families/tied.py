"""Tied bridge of a nylon-string guitar: height at the saddle's bottom, intonation at its top, strings tied behind."""

from dataclasses import replace

from shop.worksheets.families import fields as f
from shop.worksheets.families import pinned
from shop.worksheets.families import steps as s
from shop.worksheets.families.parts import Family

STRINGS_ON = s.strings_step(
    do="Change strings one after another, tie each with its end held under the last turn, stretch, tune to pitch.",
    extra=("Nylon stretches for days: read again the day after, if it can wait.",),
)
RELIEF = replace(
    s.RELIEF,
    do="Read it. Where there is a truss rod turn it a little at a time; where there is none, relief is the neck's own.",
)
ANGLE = s.angle_step(
    do="Read the crests over the top, and see that every string bends enough over the saddle.",
    cautions=("The tie block is thin above its holes: do not cut into it.",),
)
PLAY = s.play_step(f.yes_no("bridge_glued", "bridge sits tight on the top, knots hold"))
OWN = {"strings": STRINGS_ON, "relief": RELIEF, "tail": ANGLE, "play": PLAY}

FAMILY = Family(
    "tied",
    tuple(OWN.get(step.key, step) for step in pinned.FAMILY.steps),
    height=pinned.FAMILY.height,
    along=pinned.FAMILY.along,
    tail=pinned.FAMILY.tail,
    tail_spec=pinned.FAMILY.tail_spec,
    has_edge=False,
    steeper="Tie so that the string leaves the block lower, through a second hole where there is one; "
    "else a neck reset lets the saddle stand higher.",
    shallower=pinned.FAMILY.shallower,
)
