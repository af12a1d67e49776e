"""Slots, crests and heights against a string drawn point by point."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given

from geometry.errors import GeometryError
from geometry.frets import fret_position_mm
from geometry.neck import (
    Neck,
    all_heights_mm,
    crest_from_height_mm,
    crown_height_mm,
    height_at_fret_mm,
    nut_from_gap_mm,
    nut_gap_mm,
    relief_lift,
    relief_tilt_rad_per_mm,
)
from geometry.relief import hang_fraction
from tests.geometry_cast import between, neck, per_string

NUT, CREST = np.full(6, 0.35), 3.0 + np.array([0.0, 0.4, 0.6, 0.6, 0.4, 0.0])


def test_a_string_is_a_straight_line():
    """Two points fix it: numpy.interp between slot and crest, less a crown computed from a circle and a parabola."""
    relief, six = 0.22, neck(radius_end_mm=400.0)
    for fret in (1, 5, 12, 22):
        x = fret_position_mm(fret, scale_mm=628.0)
        line = np.array([np.interp(x, [0.0, 628.0], [NUT[i], CREST[i]]) for i in range(6)])
        radius = 305.0 + 95.0 * (1 - 2 ** (-fret / 12)) / (1 - 2 ** (-22 / 12))
        y = six.lateral_mm(fret)
        way = (x - fret_position_mm(1, scale_mm=628.0)) / np.diff(fret_position_mm([1, 22], scale_mm=628.0))[0]
        crown = -4 * relief * way * (1 - way) - (radius - np.sqrt(radius**2 - y**2))
        found = height_at_fret_mm(six, fret, nut_mm=NUT, crest_mm=CREST, relief_mm=relief)
        np.testing.assert_allclose(found, line - crown, atol=1e-12)


@given(between(-0.2, 0.6), per_string(0.0, 0.6), per_string(0.5, 4.0))
def test_gap_and_height_read_back(relief, gap, height):
    six = neck(radius_end_mm=420.0)
    nut = nut_from_gap_mm(six, gap, relief_mm=relief)
    np.testing.assert_allclose(nut_gap_mm(six, nut, relief_mm=relief), gap, atol=1e-12)
    crest = crest_from_height_mm(six, height, nut_mm=nut, relief_mm=relief)
    again = height_at_fret_mm(six, 12, nut_mm=nut, crest_mm=crest, relief_mm=relief)
    np.testing.assert_allclose(again, height, atol=1e-12)


def test_half_of_a_change_at_the_bridge_arrives_at_fret_12():
    """Common practice, no source; exact with no set-back."""
    before = height_at_fret_mm(neck(), 12, nut_mm=NUT, crest_mm=CREST)
    after = height_at_fret_mm(neck(), 12, nut_mm=NUT, crest_mm=CREST + 0.3)
    np.testing.assert_allclose(after - before, 0.15, atol=1e-12)


def test_set_back_crests_lower_the_string_a_little():
    far = height_at_fret_mm(neck(), 12, nut_mm=NUT, crest_mm=CREST, crest_x_mm=np.full(6, 631.0))
    near = height_at_fret_mm(neck(), 12, nut_mm=NUT, crest_mm=CREST)
    np.testing.assert_allclose(far - near, (CREST - NUT) * 314.0 * (1 / 631.0 - 1 / 628.0), atol=1e-12)


def test_measured_hang_stands_in_for_the_parabola():
    hang = 0.2 * hang_fraction(9, end_fret=22)
    np.testing.assert_allclose(
        crown_height_mm(neck(), 9, hang_mm=hang), crown_height_mm(neck(), 9, relief_mm=0.2), atol=1e-15
    )


def test_every_fret_at_once():
    table = all_heights_mm(neck(), nut_mm=NUT, crest_mm=CREST, relief_mm=0.2)
    assert table.shape == (22, 6)
    np.testing.assert_array_equal(table[11], height_at_fret_mm(neck(), 12, nut_mm=NUT, crest_mm=CREST, relief_mm=0.2))


def test_a_missing_reading_goes_no_further_than_its_string():
    gap = np.array([0.1, np.nan, 0.1, 0.1, 0.1, 0.1])
    nut = nut_from_gap_mm(neck(), gap, relief_mm=0.2)
    crest = crest_from_height_mm(neck(), np.full(6, 1.7), nut_mm=nut, relief_mm=0.2)
    assert np.isnan(nut).tolist() == np.isnan(crest).tolist() == [False, True, False, False, False, False]


def test_many_necks_at_once_are_as_one_by_one():
    scales = np.array([[628.0] * 6, [648.0] * 6])
    both = neck(scale_mm=scales, radius_nut_mm=np.array([250.0, 305.0]), radius_end_mm=np.array([400.0, 305.0]),
                end_fret=np.array([22, 20]))  # fmt: skip
    found = height_at_fret_mm(both, 12, nut_mm=NUT, crest_mm=CREST, relief_mm=np.array([0.1, 0.3]))
    for i, relief in enumerate((0.1, 0.3)):
        one = neck(scale_mm=scales[i], radius_nut_mm=both.radius_nut_mm[i], radius_end_mm=both.radius_end_mm[i],
                   end_fret=both.end_fret[i])  # fmt: skip
        np.testing.assert_allclose(
            found[i], height_at_fret_mm(one, 12, nut_mm=NUT, crest_mm=CREST, relief_mm=relief), atol=1e-13
        )


def test_mirrored_necks_give_mirrored_heights():
    gap, height = np.linspace(0.1, 0.2, 6), np.linspace(2.0, 1.4, 6)
    nut = nut_from_gap_mm(neck(), gap, relief_mm=0.2)
    crest = crest_from_height_mm(neck(), height, nut_mm=nut, relief_mm=0.2)
    nut_mirrored = nut_from_gap_mm(neck(), gap[::-1], relief_mm=0.2)
    crest_mirrored = crest_from_height_mm(neck(), height[::-1], nut_mm=nut_mirrored, relief_mm=0.2)
    np.testing.assert_allclose(crest_mirrored, crest[::-1], atol=1e-12)


def test_a_rod_bends_the_neck_up_to_the_joint():
    """Second opinion in the body's own frame: a parabola of the same curvature, tangent to the body at the joint."""
    joint, end, relief = 16, 22, 0.1
    x = fret_position_mm(np.array([0, 1, 12, joint, end]), scale_mm=628.0)
    nut_x, first, twelfth, joint_x, last = x
    curve = 4 * relief / (last - first) ** 2
    nut_lift = curve * joint_x**2  # the crest stays, the nut rises
    height_change = 0.5 * nut_lift - curve * (joint_x - twelfth) ** 2
    nut, crest = relief_lift(neck(), joint_fret=joint)
    before = height_at_fret_mm(neck(), 12, nut_mm=NUT, crest_mm=CREST, relief_mm=0.2)
    after = height_at_fret_mm(neck(), 12, nut_mm=NUT + nut * relief, crest_mm=CREST + crest * relief, relief_mm=0.3)
    np.testing.assert_allclose(after - before, height_change, atol=1e-9)
    assert nut_x == 0.0


def test_what_relief_takes_off_the_tilt_agrees_with_the_lift():
    """The string leans by what nut and crest do to each other: seen from the body only the nut moves."""
    nut, crest = relief_lift(neck(), joint_fret=16)
    lean = (crest - nut) / 628.0 - relief_tilt_rad_per_mm(neck(), joint_fret=16)
    joint_x, first, last = fret_position_mm(np.array([16, 1, 22]), scale_mm=628.0)
    np.testing.assert_allclose(lean, -4 * joint_x**2 / (last - first) ** 2 / 628.0, atol=1e-12)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"scale_mm": 628.0}, "scale_mm is 628"), ({"scale_mm": [0.0]}, "scale_mm is 0"), ({"end_fret": 1}, "end_fret"),
        ({"end_fret": "22"}, "end_fret is '22'"),
    ],
)  # fmt: skip
def test_a_neck_is_checked_when_it_is_made(changes, message):
    with pytest.raises(GeometryError, match=message):
        neck(**changes)


def test_a_neck_cannot_be_changed_but_replaced():
    six = neck()
    with pytest.raises(AttributeError):
        six.end_fret = 24
    assert isinstance(replace(six, end_fret=24), Neck)


def test_the_gap_is_read_below_the_held_fret():
    with pytest.raises(GeometryError, match="below held_fret"):
        nut_from_gap_mm(neck(), np.full(6, 0.1), held_fret=1, gap_fret=3)


def test_arguments_are_left_alone():
    gap, height = np.full(6, 0.15), np.full(6, 1.7)
    gap.flags.writeable = height.flags.writeable = False
    nut = nut_from_gap_mm(neck(), gap, relief_mm=np.array(0.2))
    crest_from_height_mm(neck(), height, nut_mm=nut, relief_mm=np.array(0.2))
