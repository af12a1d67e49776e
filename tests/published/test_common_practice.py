"""Facts of the trade that the numbers must show. Each is common practice, no source, unless it says otherwise."""

import inspect

import numpy as np
import pytest

from geometry.arch import fit_arch
from geometry.bridge import lever
from geometry.frets import string_spacing_mm
from geometry.fretting import Placement, elastic_from_stiffness
from geometry.intonation import intonation_move_mm
from geometry.neck import Neck, crest_from_height_mm, height_at_fret_mm
from geometry.pitch import frequency_hz, tuning_midi
from geometry.saddle import FLAT_TO_FRONT, FLAT_TO_REAR, saddle_reach, usual_facing
from geometry.setbacks import setback_range
from geometry.strings import axial_stiffness_n, bending_stiffness_n_m2, string_mass_kg_per_m, tension_n
from geometry.tail import exit_height_mm, tail_path
from geometry.window import stud_window

BRIDGE = string_spacing_mm(6, spread_mm=52.0)
NECK = Neck(np.full(6, 628.0), string_spacing_mm(6, spread_mm=35.5), BRIDGE, 305.0, 305.0, 22)


def test_turning_a_saddle_round_moves_its_crest_two_millimetres():
    assert inspect.signature(saddle_reach).parameters["turn_shift_mm"].default == 2.0
    turned = saddle_reach(0.0, back_left_mm=5.0, forward_left_mm=5.0, facing=[FLAT_TO_REAR, FLAT_TO_FRONT])
    assert turned.screw_turned_mm.tolist() == [2.0, -2.0]


def test_lower_half_flat_to_the_rear():
    assert usual_facing(6).tolist() == [FLAT_TO_REAR] * 3 + [FLAT_TO_FRONT] * 3


def test_half_of_a_change_at_the_bridge_arrives_at_fret_12():
    low, high = (height_at_fret_mm(NECK, 12, nut_mm=np.full(6, 0.4), crest_mm=np.full(6, one)) for one in (3.0, 4.0))
    assert high - low == pytest.approx(np.full(6, 0.5), rel=1e-12)


def test_each_post_moves_every_string():
    """Raising the bass post by 1 mm lifts the bass string most and the treble string least, but lifts all."""
    lift = lever(BRIDGE, span_mm=74.0)[:, 0]
    assert (np.diff(lift) < 0).all()
    assert (lift > 0).all()


def test_middle_saddles_stand_highest():
    """Equal heights over an arched board need an arch of crests."""
    crest = crest_from_height_mm(NECK, np.full(6, 1.6), nut_mm=np.full(6, 0.4))
    assert (np.diff(crest[:3]) > 0).all()
    assert crest == pytest.approx(crest[::-1], rel=1e-12)
    assert fit_arch(crest, crest, lateral_mm=BRIDGE, span_mm=74.0).cut_mm == pytest.approx(np.zeros(6), abs=1e-12)


def path(exit_mm):
    return tail_path(15.0, exit_mm, run_mm=40.0, front_fall_rad=0.06, edge_behind_mm=6.0, edge_below_mm=1.5)


def test_lowering_the_tailpiece_raises_the_angle_and_ends_on_the_rear_edge():
    found = path(np.linspace(12.0, 2.0, 41))
    free = ~found.on_edge
    assert (np.diff(found.break_rad[free]) > 0).all()
    assert (np.diff(found.clearance_mm) < 0).all()
    assert found.on_edge.any()
    # Once it lies on the edge the angle over the crest grows no more, and a second bend begins.
    assert np.ptp(found.break_rad[found.on_edge]) < 1e-12
    assert (found.edge_bend_rad[found.on_edge] > 0).all()


def test_unequal_studs_tilt_the_tailpiece_and_use_up_the_allowed_difference():
    even, uneven = (exit_height_mm(one, 6.0, lateral_mm=BRIDGE, span_mm=82.0) for one in (6.0, 7.5))
    assert np.ptp(even) == 0.0
    assert (np.diff(uneven) < 0).all()
    window = stud_window(
        np.full(6, 2.0), np.full(6, 12.0), bass_mm=7.5, treble_mm=6.0, lateral_mm=BRIDGE, span_mm=82.0,
        difference_most_mm=1.0,
    )  # fmt: skip
    assert not window.inside
    assert window.difference_margin_mm == pytest.approx(-0.5)
    assert window.move_bass_mm == pytest.approx(-0.25)
    assert window.move_treble_mm == pytest.approx(0.25)


def test_a_cent_is_about_a_third_of_a_millimetre():
    """At fret 12: 0.36 mm on 628 mm; derived."""
    assert intonation_move_mm(1.0, open_mm=628.0) == pytest.approx(0.36, abs=0.005)


# A common light electric set, bass to treble: diameter over all and core, mm; cores are usual ones.
GAUGE = np.array([1.168, 0.914, 0.660, 0.432, 0.330, 0.254])
CORE = np.array([0.432, 0.381, 0.330, np.nan, np.nan, np.nan])


def electric_strings():
    mass = string_mass_kg_per_m(GAUGE, core_mm=CORE, core_density_kg_per_m3=7850, wrap_density_kg_per_m3=8000)
    tension = tension_n(mass, length_mm=648, frequency_hz=frequency_hz(tuning_midi("E2 A2 D3 G3 B3 E4")))
    bearing = np.where(np.isnan(CORE), GAUGE, CORE)
    return elastic_from_stiffness(
        tension, axial_n=axial_stiffness_n(bearing, young_pa=200e9),
        bending_n_m2=bending_stiffness_n_m2(bearing, young_pa=200e9),
    )  # fmt: skip


@pytest.fixture(scope="module")
def electric():
    """Set-backs at the saddle that make the octaves true, at both ends of what the string's ends may do."""
    return setback_range(electric_strings(), Placement(648.0, nut_mm=0.45, crest_mm=3.2), frets=[12], free="saddle")


def test_lower_strings_need_more_setback_within_each_kind(electric):
    for one in (electric.pinned, electric.assumed, electric.clamped):
        assert (np.diff(one.saddle_mm[:3]) < 0).all()
        assert (np.diff(one.saddle_mm[3:]) < 0).all()


def test_the_top_crest_ends_in_front_of_the_lowest(electric):
    assert electric.assumed.saddle_mm[-1] < electric.assumed.saddle_mm[0] - 1.0


def test_steel_is_uncertain_by_its_ends(electric, show):
    """Derived: from all ends pinned to all clamped, roughly 0.5 to 2 mm on the top string and 2 to 6 mm on a plain
    third; each clamped end adds the length over which the string bends."""
    show(
        "Set-backs of a light electric set by end condition, mm (E2 A2 D3 G3 B3 E4)",
        *(
            f"{name:8s} " + " ".join(f"{value:5.2f}" for value in getattr(electric, name).saddle_mm)
            for name in ("pinned", "assumed", "clamped")
        ),
    )  # fmt: skip
    assert electric.pinned.saddle_mm[[5, 3]] == pytest.approx([0.75, 2.2], abs=0.1)
    assert electric.clamped.saddle_mm[[5, 3]] == pytest.approx([2.25, 6.5], abs=0.1)
    added = electric.clamped.saddle_mm - electric.pinned.saddle_mm
    assert added == pytest.approx(2 * electric_strings().bend_length_mm, rel=0.03)
