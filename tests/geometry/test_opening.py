"""Remedies for an empty window: each tried by hand on a changed bridge."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given

from geometry.exits import exit_bounds
from geometry.opening import TailSetting, bridge_change_mm, what_opens
from geometry.window import stud_window
from tests.geometry_cast import SIX_ARCH, between, neck, per_string

TIGHT = TailSetting(
    crest_mm=15.0 + SIX_ARCH, run_mm=np.full(6, 40.0), front_fall_rad=np.full(6, 0.06),
    lateral_mm=neck().lateral_bridge_mm, span_mm=82.0, edge_behind_mm=np.full(6, 8.0), edge_below_mm=np.full(6, 0.9),
    break_low_rad=0.12, clearance_low_mm=0.5, above_stud_mm=5.0, difference_most_mm=1.0,
)  # fmt: skip


def room(setting):
    names = ("run_mm", "front_fall_rad", "break_low_rad", "break_high_rad", "hold_rad", "edge_behind_mm",
             "edge_below_mm", "clearance_low_mm", "bar_radius_mm")  # fmt: skip
    bounds = exit_bounds(setting.crest_mm, **{name: getattr(setting, name) for name in names})
    return float(stud_window(
        bounds.lower_mm, bounds.upper_mm, bass_mm=5.0, treble_mm=5.0, lateral_mm=setting.lateral_mm,
        span_mm=setting.span_mm, above_stud_mm=setting.above_stud_mm, difference_most_mm=setting.difference_most_mm,
        stud_low_mm=setting.stud_low_mm, stud_high_mm=setting.stud_high_mm,
    ).room_mm)  # fmt: skip


def test_every_remedy_is_what_the_changed_bridge_would_have():
    facing = np.array([1.0, 1, 1, -1, -1, np.nan])
    other = replace(TIGHT, bar_radius_mm=6.0, above_stud_mm=2.0)
    found = what_opens(TIGHT, other=other, facing=facing, turn_shift_mm=2.0, cut_mm=0.4)
    assert float(found.room_mm) == pytest.approx(room(TIGHT))
    assert float(found.room_mm) < 0
    assert float(found.other_stringing_mm) == pytest.approx(room(other))
    for string in range(6):
        shift = np.zeros(6)
        shift[string] = np.nan_to_num(-facing[string] * 2.0)
        turned = replace(TIGHT, run_mm=TIGHT.run_mm - shift, edge_behind_mm=TIGHT.edge_behind_mm - shift)
        if np.isnan(facing[string]):
            assert np.isnan(found.turned_mm[string])
        else:
            assert found.turned_mm[string] == pytest.approx(room(turned))
        cut = 0.4 * (np.arange(6) == string)
        lowered = replace(TIGHT, crest_mm=TIGHT.crest_mm - cut, edge_below_mm=TIGHT.edge_below_mm - cut)
        assert found.lowered_mm[string] == pytest.approx(room(lowered))


def test_turning_all_saddles_that_face_forward_opens_what_the_edge_closed():
    found = what_opens(TIGHT, facing=np.full(6, -1.0), turn_shift_mm=3.0)
    # The arch still counts: crests of unequal height over a straight tailpiece.
    flat = what_opens(replace(TIGHT, crest_mm=np.full(6, 15.0)), facing=np.full(6, -1.0), turn_shift_mm=3.0)
    assert float(flat.room_mm) < 0 < float(flat.all_turned_mm)
    assert float(found.all_turned_mm) > float(found.room_mm)


def test_turning_what_faces_back_already_gains_nothing_and_is_not_advised():
    found = what_opens(TIGHT, facing=np.full(6, 1.0))
    assert (found.turned_mm <= found.room_mm + 1e-12).all()
    assert float(found.all_turned_mm) == pytest.approx(float(found.room_mm))


LOW_BRIDGE = replace(TIGHT, edge_below_mm=np.full(6, np.nan), break_low_rad=0.2, above_stud_mm=12.0)


@given(between(11, 17), between(6, 14), between(0.08, 0.3))
def test_raising_the_bridge_just_opens_what_the_studs_travel_closed(height, above, least):
    setting = replace(LOW_BRIDGE, crest_mm=height + SIX_ARCH, above_stud_mm=above, break_low_rad=least)
    change = float(bridge_change_mm(setting))
    if change == 0.0:
        assert room(setting) >= 0
        return
    assert change > 0
    assert room(replace(setting, crest_mm=setting.crest_mm + change + 1e-6)) >= 0
    assert room(replace(setting, crest_mm=setting.crest_mm + change - 1e-4)) < 0


def test_lowering_the_bridge_where_the_studs_end_above():
    setting = replace(LOW_BRIDGE, break_low_rad=np.nan, break_high_rad=0.1, stud_high_mm=3.0, above_stud_mm=5.0)
    change = float(bridge_change_mm(setting))
    assert change < 0
    assert room(replace(setting, crest_mm=setting.crest_mm + change - 1e-6)) >= 0


def test_no_height_of_the_bridge_mends_a_string_that_contradicts_itself():
    assert np.isnan(bridge_change_mm(TIGHT))


@given(per_string(0.3, 3.0))
def test_many_at_once_are_as_one_by_one(below):
    several = replace(TIGHT, edge_below_mm=np.stack([below, below[::-1]]))
    many = what_opens(several, facing=np.full(6, -1.0))
    for i, edge in enumerate((below, below[::-1])):
        one = what_opens(replace(TIGHT, edge_below_mm=edge), facing=np.full(6, -1.0))
        for name in one.__dataclass_fields__:
            np.testing.assert_allclose(getattr(many, name)[i], getattr(one, name), atol=1e-9, err_msg=name)
