"""The whole setup at once: moves that come true, what they leave, and a general solver's opinion."""

import numpy as np
import pytest
from hypothesis import given
from scipy.optimize import lsq_linear

from geometry.checks import check_sheets
from geometry.errors import GeometryError
from geometry.neck import (
    crest_from_height_mm,
    height_at_fret_mm,
    nut_from_gap_mm,
    nut_gap_mm,
    relief_lift,
    relief_tilt_rad_per_mm,
)
from geometry.neck_moves import Errors, _matrix, effects_of, solve_moves
from geometry.plan import plan_setup
from geometry.sheet import Readings
from tests.geometry_cast import (
    SIX_ARCH,
    between,
    many_readings,
    neck,
    per_string,
    readings,
    record,
    targets,
)

FAR_OFF = {"relief_mm": 0.45, "nut_gap_mm": np.full(6, 0.3), "height_12_mm": np.linspace(2.6, 2.2, 6)}


def as_moved(sheet, plan, upto=3):
    """The model itself, moved: relief and lift by the rod, slots cut, posts turned; then read again."""
    six, done = neck(), [np.arange(4) <= upto][0]
    relief = sheet.relief_mm + done[0] * plan.relief_change_mm
    nut_lift, crest_lift = relief_lift(six, joint_fret=16)
    nut = nut_from_gap_mm(six, sheet.nut_gap_mm, relief_mm=sheet.relief_mm)
    crest = crest_from_height_mm(six, sheet.height_12_mm, nut_mm=nut, relief_mm=sheet.relief_mm)
    nut = nut + nut_lift * done[0] * plan.relief_change_mm + done[1] * plan.nut_change_mm
    y = six.lateral_bridge_mm / 74.0
    posts = (0.5 - y) * plan.post_bass_mm + (0.5 + y) * plan.post_treble_mm
    crest = crest + crest_lift * done[0] * plan.relief_change_mm + done[2] * posts
    return {
        "relief_mm": relief, "nut_gap_mm": nut_gap_mm(six, nut, relief_mm=relief),
        "height_12_mm": height_at_fret_mm(six, 12, nut_mm=nut, crest_mm=crest, relief_mm=relief),
    }  # fmt: skip


@given(between(0.0, 0.6), per_string(0.25, 0.4), between(1.2, 3.0), between(1.0, 2.6))
def test_applied_to_the_model_the_moves_reach_their_goals(relief, gap, bass, treble):
    """Relief and slots high enough to cut reach their goals to 1e-9, and so does every height that two posts can."""
    sheet = readings(relief_mm=relief, nut_gap_mm=gap, height_12_mm=np.linspace(bass, treble, 6))
    plan = plan_setup(sheet, record(), targets(), joint_fret=16, nut_raise_mm=1.0)
    again = as_moved(sheet, plan)
    assert again["relief_mm"] == pytest.approx(0.2, abs=1e-9)
    np.testing.assert_allclose(again["nut_gap_mm"], 0.15, atol=1e-9)
    np.testing.assert_allclose(again["height_12_mm"] + plan.height_remains_mm, np.linspace(1.85, 1.45, 6), atol=1e-9)
    if np.ptp(gap) == 0:  # otherwise the slots, cut by different amounts, leave heights off any straight line
        np.testing.assert_allclose(plan.height_remains_mm, 0.0, atol=1e-9)


def test_outer_heights_alone_are_always_reached():
    height = np.array([2.6, np.nan, np.nan, np.nan, np.nan, 2.2])
    sheet = readings(relief_mm=0.45, nut_gap_mm=np.linspace(0.3, 0.4, 6), height_12_mm=height)
    plan = plan_setup(sheet, record(), targets(), joint_fret=16)
    np.testing.assert_allclose(as_moved(sheet, plan)["height_12_mm"][[0, 5]], [1.85, 1.45], atol=1e-9)


def test_expected_readings_on_the_way_are_the_models():
    sheet = readings(**FAR_OFF)
    plan = plan_setup(sheet, record(), targets(), joint_fret=16)
    for step, expected in enumerate(plan.expected):
        again = as_moved(sheet, plan, upto=step)
        for name, value in again.items():
            np.testing.assert_allclose(getattr(expected, name), value, atol=1e-9, err_msg=f"{step} {name}")


def test_the_studs_end_in_the_window_of_the_new_crests():
    """Check the sheet again as it will be: break angles and clearances in range, the studs inside."""
    sheet = readings(**FAR_OFF, stud_bass_mm=11.0, stud_treble_mm=9.0)
    plan = plan_setup(sheet, record(), targets(), joint_fret=16, guard_mm=0.01)
    last = plan.expected[-1]
    y = neck().lateral_bridge_mm / 74.0
    tilt = relief_tilt_rad_per_mm(neck(), joint_fret=16)[0]
    crest = 15.0 + SIX_ARCH + (0.5 - y) * plan.post_bass_mm + (0.5 + y) * plan.post_treble_mm
    after = check_sheets(
        readings(relief_mm=last.relief_mm, nut_gap_mm=last.nut_gap_mm, height_12_mm=last.height_12_mm, crest_mm=crest,
                 stud_bass_mm=11.0 + plan.stud_bass_mm, stud_treble_mm=9.0 + plan.stud_treble_mm),
        record(pluck_n=0.0, neck_tilt_rad=0.052 - float(tilt * plan.relief_change_mm)), targets(),
    )  # fmt: skip
    assert after.window.inside
    assert (after.break_angle.verdict == 2).all()
    np.testing.assert_allclose(after.path.break_rad, last.break_rad, atol=1e-9)
    np.testing.assert_allclose(after.path.clearance_mm, last.clearance_mm, atol=1e-9)


def test_scipy_agrees_where_slots_cannot_be_raised_and_travel_ends():
    random = np.random.default_rng(2)
    effects = effects_of(record(), joint_fret=16)
    matrix = _matrix(effects, 6)
    for _ in range(20):
        goal = random.normal(0, 0.3, 13)
        moves = solve_moves(effects, Errors(np.array(goal[0]), goal[1:7], goal[7:]), tolerances_mm=(0.01, 0.01, 0.05),
                            rod_most_mm=0.2, post_most_mm=0.4)  # fmt: skip
        root = np.r_[[100.0], np.full(6, 100.0), np.full(6, 20.0)]
        low = np.r_[[-0.2], np.full(6, -np.inf), [-0.4, -0.4]]
        high = np.r_[[0.2], np.full(6, 0.0), [0.4, 0.4]]
        best = lsq_linear(root[:, None] * matrix, root * goal, (low, high), method="bvls", tol=1e-15, max_iter=500)
        ours = np.r_[moves.relief_mm, moves.nut_mm, moves.post_bass_mm, moves.post_treble_mm]
        np.testing.assert_allclose(ours, best.x, atol=1e-7)


def test_slots_are_cut_never_raised():
    sheet = readings(nut_gap_mm=np.array([0.02, 0.3, 0.3, 0.3, 0.3, 0.02]))
    plan = plan_setup(sheet, record(), targets(), joint_fret=16)
    assert (plan.nut_change_mm <= 0).all()
    np.testing.assert_allclose(plan.nut_change_mm[[0, 5]], 0.0, atol=1e-12)
    assert (plan.nut_gap_remains_mm[[0, 5]] > 0.1).all()
    raised = plan_setup(sheet, record(), targets(), joint_fret=16, nut_raise_mm=0.5)
    np.testing.assert_allclose(raised.nut_gap_remains_mm, 0.0, atol=1e-9)


def test_an_arch_that_does_not_fit_leaves_its_rest_to_the_heights():
    height = np.linspace(2.2, 1.8, 6) + np.array([0.0, 0.1, -0.1, 0.1, 0.0, 0.0])
    plan = plan_setup(readings(height_12_mm=height), record(), targets(), joint_fret=16)
    assert plan.relief_remains_mm == pytest.approx(0.0, abs=1e-12)
    np.testing.assert_allclose(plan.nut_gap_remains_mm, 0.0, atol=1e-12)
    assert np.abs(plan.height_remains_mm).max() > 0.05
    # Least squares: what remains holds no straight line that the posts could still take up.
    y = neck().lateral_bridge_mm
    assert plan.height_remains_mm.sum() == pytest.approx(0.0, abs=1e-9)
    assert (plan.height_remains_mm * y).sum() == pytest.approx(0.0, abs=1e-8)


def test_where_the_posts_end_relief_can_make_up_for_them():
    sheet = readings(height_12_mm=np.linspace(2.4, 2.0, 6))
    in_order = plan_setup(sheet, record(), targets(), joint_fret=16, post_most_mm=0.6)
    weighed = plan_setup(sheet, record(), targets(), joint_fret=16, post_most_mm=0.6, tolerances_mm=(0.05, 0.05, 0.05))
    assert in_order.post_bass_mm == pytest.approx(-0.6)
    assert in_order.relief_change_mm == pytest.approx(0.0, abs=1e-12)
    assert weighed.relief_change_mm < -0.02
    assert np.abs(weighed.height_remains_mm).max() < np.abs(in_order.height_remains_mm).max()


def test_nearest_moves_no_more_than_it_must():
    inside = readings(relief_mm=0.12, nut_gap_mm=np.full(6, 0.2), height_12_mm=np.linspace(2.05, 1.65, 6))
    plan = plan_setup(inside, record(), targets(), joint_fret=16, aim="nearest")
    np.testing.assert_allclose(
        np.r_[plan.relief_change_mm, plan.nut_change_mm, plan.post_bass_mm, plan.post_treble_mm], 0.0, atol=1e-12
    )
    outside = readings(relief_mm=0.5)
    plan = plan_setup(outside, record(), targets(), joint_fret=16, aim="nearest", guard_mm=0.02)
    assert outside.relief_mm + plan.relief_change_mm == pytest.approx(0.28, abs=1e-9)


def test_more_relief_raises_the_strings():
    """Bending the neck lifts the nut against the body (derived; the model's direction)."""
    assert (effects_of(record(), joint_fret=16).height_per_relief > 0).all()


def test_readings_not_taken_leave_their_adjusters_alone():
    gap = np.full(6, 0.3)
    gap[3] = np.nan
    plan = plan_setup(Readings(nut_gap_mm=gap, height_12_mm=np.full(6, np.nan)), record(), targets(), joint_fret=16)
    assert plan.relief_change_mm == 0.0
    assert plan.nut_change_mm[3] == 0.0
    assert plan.nut_change_mm[0] < 0.0
    assert plan.post_bass_mm == 0.0
    assert np.isnan(plan.height_remains_mm).all()
    assert np.isnan(plan.stud_bass_mm)


def test_many_plans_are_as_one_by_one():
    many = many_readings(9, seed=5)
    together = plan_setup(many, record(), targets(), joint_fret=16)
    for i in range(9):
        cut = {name: value[i] if value.ndim == (2 if name in Readings.PER_STRING else 1) else value
               for name, value in vars(many).items()}  # fmt: skip
        alone = plan_setup(Readings(**cut), record(), targets(), joint_fret=16)
        for name in ("relief_change_mm", "nut_change_mm", "post_bass_mm", "stud_treble_mm", "height_remains_mm"):
            np.testing.assert_allclose(getattr(together, name)[i], getattr(alone, name), atol=1e-9, err_msg=name)


@pytest.mark.parametrize(
    ("changes", "message"),
    [({"aim": "best"}, "one of middle, nearest"), ({"joint_fret": 0}, "joint_fret is 0"),
     ({"tolerances_mm": (0.01, 0.01, 0.0)}, "tolerances_mm"), ({"rod_most_mm": -1.0}, "rod_most_mm")],
)  # fmt: skip
def test_bad_arguments(changes, message):
    with pytest.raises(GeometryError, match=message):
        plan_setup(readings(), record(), targets(), **({"joint_fret": 16} | changes))
