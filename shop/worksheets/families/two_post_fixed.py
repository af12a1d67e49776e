"""Two-post bridge with a tailpiece that is screwed down: nothing to turn there."""

from shop.worksheets.families import fields as f
from shop.worksheets.families import steps as s
from shop.worksheets.families import two_post as bridge
from shop.worksheets.families.parts import FIXED, Family

LOOSE = "The bridge is held by string pull alone: take strings off in turn, and protect the top."
CHECKS = ("break_angle", "edge_clearance")

FAMILY = Family(
    "two_post_fixed",
    (
        s.inspect_step(
            *bridge.CRESTS, f.needed(f.OCTAVE), f.FACING, f.ROOM_BACK,
            checks=(*CHECKS, "octave", "saddle_travel"), drawings=("bridge_side", "neck"),
        ),
        s.strings_step(do="Change strings one after another, stretch each, tune to pitch.", extra=(LOOSE,)),
        s.RELIEF,
        s.NUT,
        bridge.height(LOOSE),
        s.arch_step(),
        s.angle_step(
            do="Nothing is turned here: read the crests, and see whether every string bends over its saddle and clears "
            "the bridge's rear edge.",
            cautions=(LOOSE,), extra=bridge.EDGE, checks=CHECKS,
        ),
        bridge.saddles(LOOSE),
        bridge.INTONATION,
        s.ELECTRICS,
        s.play_step(bridge.UPRIGHT),
        s.left_step(
            *bridge.CRESTS, f.needed(f.OCTAVE), checks=(*CHECKS, "octave"),
            rests_on=("saddle_facing", "saddle_room_back", "crest_to_edge"),
        ),
    ),
    tail=FIXED,
    tail_spec=("tail_run_mm", "tail_exit_height_mm"),
    steeper="The neck has to fall back more, by a shim at its heel or a reset, so that the bridge can stand higher at "
    "the same string height.",
    shallower="Set the bridge lower with a shim under the other end of the heel or a reset, or file the bridge's rear "
    "edge where a string touches it.",
)  # fmt: skip
