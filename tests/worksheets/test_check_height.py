"""Height at fret 12, both posts at once, and the arch."""

import pytest

from shop.worksheets.evaluation import evaluate_sheet
from tests import worksheet_builders as build


def evaluated(values, *, spec=None, **more):
    return evaluate_sheet(build.sheet(values, spec=build.spec(**(spec or {})), **more))


def test_half_of_a_move_at_the_bridge_arrives_at_fret_12():
    """Common practice, no source; exact for a straight string, since fret 12 lies half-way.

    Posts as far apart as the strings: each post moves its own outer string alone. 2.45 is to become 1.85: crest 1.20
    lower; 1.45 is the middle of the treble side's range already.
    """
    finding = evaluated({"height_12:6": 2.45, "height_12:1": 1.45}, spec={"post_span_mm": 51.0}).finding("height_12:6")
    assert finding.verdict == "out_of_range"
    assert finding.move == "Bass post down 1.20 mm (1 3/4 turns)."  # M4: 0.7 mm a turn (ISO 261)


def test_posts_wider_apart_than_the_strings_are_solved_together():
    """The line through the crests' changes, −1.2 at y = −25.5 and 0 at y = +25.5, read off at y = ∓37:

    −0.6 − 37·1.2/51 = −1.4706 and −0.6 + 37·1.2/51 = +0.2706.
    """
    finding = evaluated({"height_12:6": 2.45, "height_12:1": 1.45}).finding("height_12:6")
    assert finding.move == "Bass post down 1.47 mm (2 1/8 turns), treble post up 0.27 mm (3/8 turn)."


def test_both_posts_alike_are_said_once():
    finding = evaluated({"height_12:6": 2.35, "height_12:1": 1.95}).finding("height_12:1")
    assert finding.move == "Both posts down 1.00 mm (1 3/8 turns)."


def test_an_unknown_thread_leaves_the_turns_out():
    finding = evaluated({"height_12:6": 2.35, "height_12:1": 1.95}, threads={"post": ""}).finding("height_12:1")
    assert finding.move == "Both posts down 1.00 mm."


def test_without_the_posts_span_the_crest_is_named():
    finding = evaluated({"height_12:6": 2.35, "height_12:1": 1.45}, spec={"post_span_mm": None}).finding("height_12:6")
    assert finding.move == "The crest has to come 1.00 mm lower: about half of it arrives at fret 12."


def test_a_string_in_range_has_nothing_to_turn():
    finding = evaluated({"height_12:6": 1.85, "height_12:1": 1.45}).finding("height_12:6")
    assert (finding.verdict, finding.move, finding.why) == ("in_range", "", "")


def test_an_inner_string_alone_is_its_saddles_affair():
    values = build.six("height_12", [1.85, 1.77, 1.69, 2.20, 1.53, 1.45])
    finding = evaluated(values).finding("height_12:3")
    assert finding.move == "The outer strings are right, so this is the saddle's own: look at the arch."


def test_heights_that_fall_evenly_fit_the_arch_whatever_the_board():
    values = build.six("height_12", [1.85, 1.77, 1.69, 1.61, 1.53, 1.45])
    evaluation = evaluated(values)
    for number in range(1, 7):
        finding = evaluation.finding(f"arch:{number}")
        assert finding.verdict == "in_range"
        assert finding.value == pytest.approx(0.0, abs=1e-9)


def test_a_crest_too_high_is_cut_by_twice_its_height_at_fret_12():
    """Half-way along half of the crest's error arrives: 0.30 mm too high at fret 12 is 0.60 mm at the crest."""
    values = build.six("height_12", [1.85, 1.77, 1.69, 1.91, 1.53, 1.45])
    finding = evaluated(values).finding("arch:3")
    assert finding.verdict == "out_of_range"
    assert finding.move == "Cut this slot 0.60 mm lower."


def test_a_crest_too_low_cannot_be_raised():
    values = build.six("height_12", [1.85, 1.77, 1.69, 1.31, 1.53, 1.45])
    finding = evaluated(values).finding("arch:3")
    assert finding.verdict == "out_of_range"
    assert "can be cut lower but never higher" in finding.move


def test_nothing_is_cut_on_a_reading_too_close_to_tell():
    values = build.six("height_12", [1.85, 1.77, 1.69, 1.80, 1.53, 1.45])
    finding = evaluated(values, gauges={"height_12": "fine_rule"}).finding("arch:3")
    assert (finding.verdict, finding.move) == ("too_close", "")
    assert finding.settle


def test_two_strings_do_not_show_an_arch():
    finding = evaluated({"height_12:6": 1.85, "height_12:1": 1.45}).finding("arch")
    assert finding.verdict == "cannot"
    assert "three strings" in finding.headline


def test_assumed_specification_is_named():
    spec = build.spec() | {"post_span_mm": {"value": 74.0, "assumed": True}}
    sheet = build.sheet({"height_12:6": 2.4, "height_12:1": 1.45}, spec=spec)
    assert evaluate_sheet(sheet).finding("height_12:6").assumed == ("bridge posts apart",)
