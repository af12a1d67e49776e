"""Break angle, rear edge and studs. Expected figures are worked out here from the triangle, not by geometry."""

import math

import pytest

from shop.worksheets.evaluation import evaluate_sheet
from tests import worksheet_builders as build

HEIGHTS = build.six("height_12", [1.85, 1.77, 1.69, 1.61, 1.53, 1.45])
GAPS = build.six("nut_gap", [0.15] * 6)
FLAT = {"board_radius_nut_mm": 5000.0, "board_radius_end_mm": 5000.0}
RUN, BEHIND, TILT, ABOVE = 40.0, 6.0, 3.0, 5.0


def at_tail(crest=(15.0, 15.0), studs=(4.0, 4.0), **values):
    return HEIGHTS | GAPS | {"relief": 0.0} | {
        "crest_height_bass": crest[0], "crest_height_treble": crest[1], "stud_bass": studs[0], "stud_treble": studs[1],
    } | values  # fmt: skip


def evaluated(values, spec=None, **more):
    known = {"tail_run_mm": RUN, "edge_behind_crest_mm": BEHIND, "neck_tilt_deg": TILT, "exit_above_stud_mm": ABOVE}
    return evaluate_sheet(build.sheet(values, spec=build.spec(**(known | (spec or {}))), **more))


def test_break_angle_is_front_fall_plus_rear_fall():
    """Outer string: crest 15, exit 4 + 5 = 9, run 40: rear fall atan(6/40) = 8.531°.

    Front fall on a flat board: tilt 3°, and the string's own climb. Its slot stands 0.15·1.5450 = 0.23 above the plane
    (see the nut's test), its crest twice 1.85 less that, 3.47: atan(3.24/628) = 0.295°.
    """
    side = evaluated(at_tail(), spec=FLAT).numbers["side"]
    assert side["rear_fall_deg"][0] == pytest.approx(math.degrees(math.atan(6 / 40)), abs=1e-6)
    assert side["break_deg"][0] == pytest.approx(3.0 + 0.295 + 8.531, abs=0.01)
    assert side["break_deg"][0] == pytest.approx(side["front_fall_deg"][0] + side["rear_fall_deg"][0], abs=1e-5)


def test_clearance_is_the_line_over_the_edge():
    """Edge 6 behind and 2.5 below the crest: 2.5 − 6·6/40 = 1.60."""
    finding = evaluated(at_tail()).finding("edge_clearance:6")
    assert finding.value == pytest.approx(1.60, abs=1e-9)
    assert finding.verdict == "in_range"


def test_clearance_carries_the_uncertainty_of_four_readings():
    """d c/d crest = −6/40, d c/d exit = +6/40; on the outer string each side's crest arrives whole or not at all, and

    the studs (82 apart, string 25.5 out) by 0.5 ± 25.5/82. Callipers of 0.02: u = 0.02/√12 each.
    """
    finding = evaluated(at_tail()).finding("edge_clearance:6")
    shares = [1.0, 0.0, 0.5 + 25.5 / 82, 0.5 - 25.5 / 82]
    expected = 2 * 0.15 * 0.02 / math.sqrt(12) * math.sqrt(sum(one**2 for one in shares))
    assert finding.uncertainty == pytest.approx(expected, rel=1e-6)


def test_a_tilted_tailpiece_follows_the_line_between_the_studs():
    """Studs 3 and 5, 82 apart: at y = −25.5 the line stands at 4 − 25.5/82·2 = 3.378."""
    side = evaluated(at_tail(studs=(3.0, 5.0))).numbers["side"]
    assert side["exit"][0] == pytest.approx(ABOVE + 4.0 - 2 * 25.5 / 82, abs=1e-6)
    assert side["exit"][5] == pytest.approx(ABOVE + 4.0 + 2 * 25.5 / 82, abs=1e-6)


def test_too_little_break_angle_turns_both_studs_down_alike():
    finding = evaluated(at_tail(studs=(9.0, 9.0))).finding("break_angle:6")
    assert finding.verdict == "out_of_range"
    assert finding.move.startswith("Both studs down ")
    assert "does not change the tension needed for pitch" in finding.why


def test_the_advised_move_does_what_it_says():
    before = evaluated(at_tail(studs=(9.0, 9.5)))
    advised = before.numbers["window"]["advised"]
    after = evaluated(at_tail(studs=tuple(advised)))
    assert {one.verdict for one in after.findings if one.check in ("break_angle", "edge_clearance")} == {"in_range"}
    assert after.finding("stud_window").verdict == "in_range"


def test_studs_too_far_apart_in_height():
    finding = evaluated(at_tail(studs=(3.0, 5.0))).finding("stud_difference")
    assert (finding.verdict, finding.value, finding.high) == ("out_of_range", 2.0, 1.0)
    assert "leans" in finding.why


def test_wrapping_over_the_top_gives_a_shallower_angle():
    """Common practice, no source: wrapped, the tailpiece can be lower at the same break angle."""
    through = evaluated(at_tail()).numbers["side"]["break_deg"]
    wrapped = evaluated(at_tail(), stringing="wrapped").numbers["side"]["break_deg"]
    assert all(one < other for one, other in zip(wrapped, through, strict=True))


def test_wrapped_string_leaves_on_the_tangent():
    """Bar of 6.5 and half a string of 1.17: r = 7.085; centre at 4 + 6.5 = 10.5, 40 + 7.085 behind the crest of 15.

    Tangent: atan(4.5/47.085) − asin(7.085/√(4.5² + 47.085²)).
    """
    side = evaluated(at_tail(), stringing="wrapped").numbers["side"]
    radius = 6.5 + 1.17 / 2
    expected = math.atan2(4.5, RUN + radius) - math.asin(radius / math.hypot(4.5, RUN + radius))
    assert side["rear_fall_deg"][0] == pytest.approx(math.degrees(expected), abs=1e-5)


def test_a_gap_read_at_the_edge_is_believed_over_the_record():
    evaluation = evaluated(at_tail() | {"edge_gap:6": 0.2})
    finding = evaluation.finding("edge_clearance:6")
    assert (finding.verdict, finding.value) == ("out_of_range", pytest.approx(0.2, abs=1e-9))
    assert finding.uncertainty == pytest.approx(2 * 0.05 / math.sqrt(12), rel=1e-6)


def test_a_gap_read_before_the_studs_were_turned_no_longer_counts():
    values = {"edge_gap:6": 0.2} | at_tail()
    assert evaluated(values).finding("edge_clearance:6").value == pytest.approx(1.60, abs=1e-9)


def test_without_stud_readings_it_says_what_is_missing():
    values = at_tail()
    del values["stud_bass"]
    finding = evaluated(values).finding("break_angle")
    assert finding.verdict == "cannot"
    assert "tailpiece above the top, bass stud" in finding.headline


def test_without_the_record_it_says_which_value_it_lacks():
    finding = evaluated(at_tail(), spec={"tail_run_mm": None}).finding("edge_clearance")
    assert "crest to string's exit at the tailpiece" in finding.headline
