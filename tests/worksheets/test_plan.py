"""The whole plan: order, coupling, agreement with geometry's own solution and with the steps, warnings."""

import numpy as np
import pytest

from geometry.neck import Neck
from geometry.plan import plan_setup
from geometry.sheet import Readings, Record, Targets
from shop.worksheets.checks.bench import Bench
from shop.worksheets.evaluation import evaluate_sheet
from shop.worksheets.findings import OUT_OF_RANGE
from shop.worksheets.plan.expected import after
from shop.worksheets.plan.solve import plan_of
from shop.worksheets.wording.said import Said
from tests import worksheet_builders as build
from tests.worksheets.plan_cast import high, received, sheet, spec

NUMBERS = (6, 5, 4, 3, 2, 1)


def end(plan, key):
    return [plan.end.value(key, number) for number in NUMBERS]


def whats(plan):
    return [move.what for move in plan.moves]


def test_moves_come_in_the_order_of_the_bench():
    assert whats(plan_of(high())) == ["rod", "nut", "height", "along"]
    assert [move.step for move in plan_of(high()).moves] == ["relief", "nut", "height", "intonation"]


def test_nothing_is_left_out_of_range_that_moves_can_mend():
    plan = plan_of(high())
    left = [one.key for one in evaluate_sheet(plan.end).findings if one.verdict == OUT_OF_RANGE]
    assert left == []
    assert plan.warned == ()


def test_the_sheet_itself_stays_as_it_was():
    before = high()
    values = [(one.key, one.string, one.value) for one in before.readings]
    plan_of(before)
    assert [(one.key, one.string, one.value) for one in before.readings] == values


def test_a_sheet_without_readings_has_no_moves():
    plan = plan_of(sheet({}))
    assert (plan.moves, plan.warned) == ((), ())


def test_rod_slots_and_posts_agree_with_geometrys_own_plan():
    """Outer strings alone read, so that both go by the same two heights; targets of the usual electric profile."""
    mine = plan_of(sheet({"received.relief": 0.45, "received.height_12:6": 2.9, "received.height_12:1": 2.6,
                          "received.nut_gap:6": 0.35, "received.nut_gap:1": 0.35}))  # fmt: skip
    known = spec()
    neck = Neck([628.0] * 2, [-17.75, 17.75], [-25.5, 25.5], 305.0, 305.0, 22)
    record = Record(neck=neck, post_span_mm=known["post_span_mm"]["value"], stud_span_mm=82.0, neck_tilt_rad=0.05,
                    run_mm=40.0)  # fmt: skip
    targets = Targets(relief_low_mm=0.1, relief_high_mm=0.3, nut_gap_low_mm=0.05, nut_gap_high_mm=0.25,
                      height_low_mm=[1.6, 1.2], height_high_mm=[2.1, 1.7])  # fmt: skip
    found = plan_setup(
        Readings(relief_mm=0.45, nut_gap_mm=[0.35, 0.35], height_12_mm=[2.9, 2.6]), record, targets, joint_fret=16
    )
    rod, nut, posts = found.expected[:3]
    assert [move.what for move in mine.moves] == ["rod", "nut", "height"]
    for move, expected in zip(mine.moves, (rod, nut, posts), strict=True):
        for place, number in enumerate((6, 1)):
            assert move.after.value("height_12", number) == pytest.approx(expected.height_12_mm[place], abs=1e-9)
            assert move.after.value("nut_gap", number) == pytest.approx(expected.nut_gap_mm[place], abs=1e-9)


def test_the_plan_says_what_the_steps_will_say():
    """The height step's own move, on the readings that rod and nut should leave."""
    plan = plan_of(high())
    before = plan.moves[1].after
    finding = evaluate_sheet(before).finding("height_12:6")
    assert plan.moves[2].texts == (finding.move,)


def test_tailpiece_is_turned_once_for_where_the_saddles_will_stand():
    low = high(**{"received.stud_bass": 1.0, "received.stud_treble": 1.0})
    plan = plan_of(low)
    assert whats(plan).count("tail") == 1
    assert "tail_again" not in whats(plan)
    assert bool(Bench(plan.end, Said()).part("window").found.inside)


def test_octaves_follow_lower_strings_and_are_true_at_the_end():
    plan = plan_of(high())
    height = plan.moves[2].after
    # Lower strings are stretched less when they are fretted: flatter than as received.
    assert height.value("octave", 6) < 5.0 - 1.0
    assert np.abs(end(plan, "octave")).max() < 1.5


def test_own_saddles_take_the_height_string_by_string():
    values = received(height_12=(2.6, 1.9, 2.6, 1.6, 1.5, 1.45), nut_gap=0.15)
    plan = plan_of(sheet(values | {"received.relief": 0.2}, family="flat_plate", spec=spec("flat_plate")))
    assert whats(plan) == ["height"]
    assert plan.end.value("height_12", 6) == pytest.approx(1.85)
    assert plan.end.value("height_12", 5) == 1.9
    assert len(plan.moves[0].texts) == 2


def test_both_set_screws_of_a_wraparound_are_solved_together():
    values = received(octave=(6.0, 5.0, 4.0, 4.0, 3.0, 3.0)) | {
        "received.screw_bass": 2.0, "received.screw_treble": 1.0, "received.relief": 0.2,
    }  # fmt: skip
    plan = plan_of(sheet(values, family="wraparound", spec=spec("wraparound")))
    (move,) = plan.moves
    assert move.what == "along"
    assert "bass set screw" in move.texts[0].lower()
    assert plan.end.value("screw_bass") > 2.0 + plan.end.value("screw_treble") - 1.0
    assert np.abs(end(plan, "octave")).max() < 1.5


@pytest.mark.parametrize(
    ("changes", "what", "says"),
    [
        ({"received.nut_gap:2": 0.0}, "nut", "string 2"),
        ({"rod_turns": 0.0}, "rod", "the rod does not do it"),
        ({"received.saddle_room_back:1": 0.5, "received.octave:1": 22.0}, "saddles", "string 1"),
    ],
)
def test_what_cannot_work_is_told_beforehand(changes, what, says):
    warned = {one.what: one for one in plan_of(high(**changes)).warned}
    assert says in warned[what].headline
    assert warned[what].work


def test_relief_beyond_the_rod_is_told():
    far = high()
    known = {**far.spec, "rod_reach_mm": {"value": 0.1, "assumed": False}}
    plan = plan_of(after(far, {}, spec={key: one["value"] for key, one in known.items()}))
    assert "0.25 mm" in plan.warned[0].headline
    assert "0.10 mm" in plan.warned[0].headline


def test_an_empty_window_is_told_with_what_would_open_it():
    known = spec(edge_below_crest_mm=0.6, edge_behind_crest_mm=12.0)
    values = {"received.relief": 0.2, "received.crest_height_bass": 15.5, "received.crest_height_treble": 14.8,
              "received.stud_bass": 6.0, "received.stud_treble": 6.0}  # fmt: skip
    values |= received(height_12=(1.85, 1.77, 1.69, 1.61, 1.53, 1.45), nut_gap=0.15)
    (warned,) = plan_of(sheet(values, spec=known)).warned
    assert warned.what == "window"
    assert "No stud setting suits every string" in warned.headline


def test_odd_figures_never_raise():
    odd = high(**{"received.height_12:6": 19.0, "received.octave:3": 149.0, "received.relief": -3.9})
    plan_of(odd)
    plan_of(sheet({"received.relief": 0.2}, spec={}))
    plan_of(sheet({"received.relief": 0.4}, targets={}))


def test_a_vibrato_turns_single_saddles_and_cuts_nothing():
    """One crest half a millimetre high, one low: each saddle's own screws mend it, either way."""
    values = build.GOOD | build.six("height_12", [1.85, 2.1, 1.69, 1.61, 1.3, 1.45])
    values = {name: value for name, value in values.items() if not name.startswith("stud")}
    values |= {"crest_height_bass": 11.0, "crest_height_treble": 11.0} | build.six("nut_gap", [0.15] * 6)
    found = plan_of(build.sheet(values, family="vibrato", spec=build.spec("vibrato")))
    (move,) = [one for one in found.moves if one.what == "arch"]
    assert [" ".join(text.split()[:6]) for text in move.texts[:1]] == ["The saddle of string 5 down"]
    assert any(text.startswith("The saddle of string 2 up") for text in move.texts)
    assert not any("string 6" in text or "string 1 " in text for text in move.texts)
    said = " ".join(text for one in found.moves for text in one.texts).lower()
    assert "cut" not in said
    assert "slot" not in said
    after = found.end.value("height_12", 5), found.end.value("height_12", 2)
    assert after == pytest.approx((1.77, 1.53), abs=0.02)
