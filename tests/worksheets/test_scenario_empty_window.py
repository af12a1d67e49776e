"""No stud setting suits every string: the least break angle and the rear edge leave nothing between them."""

import pytest

from tests.worksheets.test_check_tail import FLAT, at_tail, evaluated

# The neck lies almost level and the edge is high and far behind: 6° over the crest needs a rear fall of about 5.2°,
# while the edge with its 0.4 of clearance allows atan((0.9 − 0.4)/8) = 3.6°.
SPEC = {"neck_tilt_deg": 0.5, "edge_below_crest_mm": 0.9, "edge_behind_crest_mm": 8.0}


@pytest.fixture
def evaluation():
    return evaluated(at_tail(), spec=SPEC)


def test_it_is_found_and_shown_empty(evaluation):
    finding = evaluation.finding("stud_window")
    assert finding.verdict == "out_of_range"
    assert finding.value < 0
    assert evaluation.numbers["window"]["polygon"] == []
    assert evaluation.numbers["window"]["advised"] is None


def test_it_names_both_bounds_and_by_how_much_they_miss(evaluation):
    headline = evaluation.finding("stud_window").headline
    assert headline.startswith("No stud setting suits every string: where string ")
    assert "would bend enough over its crest, string " in headline
    assert "already comes too near the bridge's rear edge. They miss each other by " in headline


def test_strings_point_at_the_window_instead_of_a_turn(evaluation):
    moves = {one.move for one in evaluation.findings if one.check in ("break_angle", "edge_clearance") and one.move}
    assert moves == {"No stud setting mends every string: see the stud window."}


def test_it_asks_for_no_acceptance_of_its_own(evaluation):
    """The strings' findings stand for it."""
    assert not evaluation.finding("stud_window").is_open
    assert any(one.is_open for one in evaluation.findings if one.check in ("break_angle", "edge_clearance"))


def test_nothing_is_promised_that_would_not_open_it(evaluation):
    assert evaluation.finding("stud_window").move.startswith("Neither the other way of stringing")


def test_a_saddle_turned_round_is_offered_where_it_opens_the_window():
    """On a flat board, crests in one line. String 3 faces to the front: its edge lies 7 behind, the others' 5.

    With 0.4 of clearance the edge allows atan(0.5/7) = 4.1° and atan(0.5/5) = 5.7°; 6° over the crest need about 4.5°.
    """
    spec = FLAT | {"edge_below_crest_mm": 0.9, "edge_behind_crest_mm": 6.0, "neck_tilt_deg": 1.2}
    facing = {f"saddle_facing:{number}": 0.0 for number in range(1, 7)} | {"saddle_facing:3": 1.0}
    finding = evaluated(at_tail() | facing, spec=spec).finding("stud_window")
    assert finding.verdict == "out_of_range"
    assert "turn the saddle of string 3 round" in finding.move
