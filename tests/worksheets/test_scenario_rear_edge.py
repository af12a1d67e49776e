"""A string lies on the bridge's rear edge; raising the studs mends it."""

import math

import pytest

from tests.worksheets.test_check_tail import at_tail, evaluated

LOW_EDGE = {"edge_below_crest_mm": 1.2}


@pytest.fixture
def evaluation():
    """Crest 15, exit 1 + 5 = 6, run 40: the line falls 9/40·6 = 1.35 at the edge, which is 1.2 below the crest."""
    return evaluated(at_tail(studs=(1.0, 1.0)), spec=LOW_EDGE)


def test_it_is_found(evaluation):
    finding = evaluation.finding("edge_clearance:6")
    assert (finding.verdict, finding.value) == ("out_of_range", pytest.approx(1.2 - 1.35, abs=1e-9))


def test_it_says_both_bends_and_the_short_piece(evaluation):
    """First bend: front fall and atan(1.2/6) = 11.31°; second: atan(7.8/34) − 11.31° = 1.61°; √(6² + 1.2²) = 6.12."""
    side = evaluation.numbers["side"]
    assert side["on_edge"][0] is True
    assert side["edge_bend_deg"][0] == pytest.approx(math.degrees(math.atan(7.8 / 34) - math.atan(1.2 / 6)), abs=1e-5)
    assert side["short_length"][0] == pytest.approx(math.hypot(6, 1.2), abs=1e-5)
    headline = evaluation.finding("edge_clearance:6").headline
    assert headline.startswith("String 6 lies on the bridge's rear edge: it bends ")
    assert "again 1.6° on the edge, 6.12 mm behind" in headline
    assert "0.15 mm below the edge" in headline


def test_it_says_why_and_what_to_turn(evaluation):
    finding = evaluation.finding("edge_clearance:6")
    assert "where it breaks" in finding.why
    assert finding.move.startswith("Both studs up ")


def test_doing_what_it_says_mends_every_string(evaluation):
    after = evaluated(at_tail(studs=tuple(evaluation.numbers["window"]["advised"])), spec=LOW_EDGE)
    assert {one.verdict for one in after.findings if one.check in ("edge_clearance", "break_angle")} == {"in_range"}


def test_the_window_is_shown_with_where_the_studs_are(evaluation):
    window = evaluation.numbers["window"]
    assert window["present"] == [1.0, 1.0]
    assert len(window["polygon"]) >= 3
    assert evaluation.finding("stud_window").verdict == "out_of_range"
