"""What is turned, filed or pushed, family by family. Figures are worked out here by the lever and the octave's rule."""

import math

import pytest

from shop.worksheets.evaluation import evaluate_sheet
from tests import worksheet_builders as build

PER_CENT = 628.0 * math.log(2) / 1200  # about, for small errors


def evaluated(family, values, **more):
    more.setdefault("threads", {"post": "M4", "saddle": "M3"})
    return evaluate_sheet(build.sheet(values, family=family, **more))


def test_flat_plate_turns_each_saddle_by_twice_its_error_at_fret_12():
    finding = evaluated("flat_plate", {"height_12:3": 2.11}).finding("height_12:3")  # the middle is 1.61
    assert finding.move == "The saddle of string 3 down 1.00 mm (1 3/8 turns), its height screws alike."


def test_wraparound_turns_its_studs_for_height():
    finding = evaluated("wraparound", {"height_12:6": 2.35, "height_12:1": 1.95}).finding("height_12:6")
    assert finding.move == "Both studs down 1.00 mm (1 3/8 turns)."


def test_wraparound_solves_both_set_screws_for_all_strings():
    """Octaves that rise evenly from −2 to +3 cents across the strings: a straight line, so both ends reach it exactly.

    At y = ∓25.5 the moves are about −2 and +3 times 0.363 mm; read off at the studs, y = ∓37.
    """
    octaves = build.six("octave", [-2, -1, 0, 1, 2, 3])
    evaluation = evaluated("wraparound", octaves | {"screw_bass": 4.0, "screw_treble": 4.0})
    bass, treble = -2 * PER_CENT, 3 * PER_CENT
    slope, middle = (treble - bass) / 51, (treble + bass) / 2
    move = evaluation.finding("octave:1").move
    assert move.startswith(f"Bass set screw out {-(middle - slope * 37):.2f} mm")
    assert f"treble set screw in {middle + slope * 37:.2f} mm" in move
    assert "All strings share it: this one then stands at about 0.0 cents." in move


def test_a_set_screw_comes_out_no_further_than_it_was_in():
    octaves = build.six("octave", [-6, -6, -6, -6, -6, -6])
    move = evaluated("wraparound", octaves | {"screw_bass": 0.5, "screw_treble": 0.5}).finding("octave:3").move
    assert move.startswith("Both set screws out 0.50 mm (1 turn).")
    assert move.endswith("An end can come no further forward.")


def test_a_fixed_ridge_leaves_what_the_ends_cannot_share():
    """Only the third string is sharp: two ends cannot mend it alone, and it is told what it is left with."""
    octaves = build.six("octave", [0, 0, 0, 8, 0, 0])
    move = evaluated("wraparound", octaves | {"screw_bass": 4.0, "screw_treble": 4.0}).finding("octave:3").move
    left = float(move.split("about +")[1].split(" cents")[0])
    assert 5.0 < left < 7.5


def test_floating_bridge_is_pushed_at_both_ends():
    octaves = build.six("octave", [4, 4, 4, 4, 4, 4])
    move = evaluated("floating", octaves).finding("octave:1").move
    assert move.startswith("The whole bridge back 1.46 mm.")


@pytest.mark.parametrize("family", ["pinned", "tied"])
def test_a_saddle_is_filed_at_the_bottom_for_height(family):
    finding = evaluated(family, {"height_12:6": 2.35, "height_12:1": 1.95}).finding("height_12:6")
    assert finding.move == "The whole saddle down by filing off 1.00 mm."


def test_a_saddle_too_low_is_shimmed():
    finding = evaluated("pinned", {"height_12:6": 1.35, "height_12:1": 0.95}).finding("height_12:6")
    assert finding.move == "The whole saddle up by a shim of 1.00 mm."


def test_a_saddle_is_shaped_at_the_top_for_the_octave():
    finding = evaluated("pinned", {"octave:2": 3.0}).finding("octave:2")
    assert finding.move == "Shape the saddle's top so that this crest stands 1.09 mm further back: file its front side."
    assert finding.why.endswith("needs a thicker saddle or another slot.")


@pytest.mark.parametrize(("family", "who"), [
    ("pinned", "on both sides together."), ("vibrato", "on both sides together."),
    ("flat_plate", "each string at its own saddle."), ("headless", "each string at its own saddle."),
])  # fmt: skip
def test_who_sets_the_height_is_said_as_the_family_does(family, who):
    heights = {f"height_12:{number}": 3.4 for number in (6, 5, 4, 3, 2, 1)}
    assert evaluated(family, heights).finding("height_12:6").why.endswith(who)


def test_a_fixed_tail_says_that_nothing_turns_and_what_else_gives_the_angle():
    """Crest 9, exit 8: 1/40 is 1.4° of rear fall and the tilt 3°: under 6°, however the bridge is turned."""
    heights = build.six("height_12", [1.85, 1.77, 1.69, 1.61, 1.53, 1.45])
    values = heights | {"crest_height_bass": 9.0, "crest_height_treble": 9.0}
    finding = evaluated("two_post_fixed", values).finding("break_angle:6")
    assert finding.verdict == "out_of_range"
    assert finding.move.startswith("There is nothing to turn: the string would have to leave ")
    assert "lower behind. The neck has to fall back more" in finding.move


def test_a_fixed_tail_has_no_window():
    evaluation = evaluated("two_post_fixed", {"relief": 0.2})
    assert evaluation.finding("stud_window") is None
    assert evaluation.numbers["window"] is None


def test_a_saddle_that_cannot_be_turned_round_is_not_said_to_be():
    move = evaluated("headless", {"octave:6": 20.0, "saddle_room_back:6": 1.0}).finding("octave:6").move
    assert "it does not get there" in move
    assert "turned round" not in move
