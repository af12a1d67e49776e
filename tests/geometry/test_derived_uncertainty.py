"""Closed-form uncertainties against the general propagation of the functions they belong to."""

import numpy as np
import pytest
from hypothesis import given

from geometry.derived_uncertainty import (
    crest_standard_mm,
    force_standard_n,
    move_standard_mm,
    nut_standard_mm,
    tail_standard,
)
from geometry.force import saddle_force
from geometry.intonation import intonation_move_mm
from geometry.neck import crest_from_height_mm, nut_from_gap_mm
from geometry.propagation import propagate
from geometry.tail import tail_path
from tests.geometry_cast import between, neck

SMALL = between(0.001, 0.2)


@given(between(-0.1, 0.5), SMALL, SMALL, SMALL)
def test_slot_and_crest(relief, u_relief, u_gap, u_height):
    six = neck()

    def both(relief, gap, height):
        # Gap and height move their own string alone: moved for all strings together, each shows its own.
        nut = nut_from_gap_mm(six, gap[..., None] + np.zeros(6), relief_mm=relief)
        crest = crest_from_height_mm(six, height[..., None] + np.zeros(6), nut_mm=nut, relief_mm=relief)
        return {"nut": nut, "crest": crest}

    found = propagate(both, {"relief": relief, "gap": 0.15, "height": 1.7},
                      {"relief": u_relief, "gap": u_gap, "height": u_height})  # fmt: skip
    nut = nut_standard_mm(six, gap_standard_mm=np.full(6, u_gap), relief_standard_mm=u_relief)
    np.testing.assert_allclose(nut, found.standard["nut"], rtol=1e-6)
    crest = crest_standard_mm(six, height_standard_mm=np.full(6, u_height), gap_standard_mm=np.full(6, u_gap),
                              relief_standard_mm=u_relief)  # fmt: skip
    np.testing.assert_allclose(crest, found.standard["crest"], rtol=1e-6)


@given(between(12, 18), between(-6, 9), between(30, 55), between(3, 9), between(0.6, 4), between(0, 7))
def test_tail(crest, leaves, run, behind, below, radius):
    shape = {"run_mm": run, "edge_behind_mm": behind, "edge_below_mm": below}
    spread = {"drop": 0.05, "run": 0.2, "behind": 0.15, "below": 0.04, "front": 0.002}

    def path_of(drop, run, behind, below, front):
        path = tail_path(drop, 0.0, run_mm=run, front_fall_rad=front, edge_behind_mm=behind, edge_below_mm=below,
                         bar_radius_mm=radius)  # fmt: skip
        return {"rear": path.rear_fall_rad, "bend": path.break_rad, "clearance": path.clearance_mm}

    values = {"drop": crest - leaves, "run": run, "behind": behind, "below": below, "front": 0.06}
    path = tail_path(crest, leaves, front_fall_rad=0.06, bar_radius_mm=radius, **shape)
    if np.isnan(path.clearance_mm) or abs(path.clearance_mm) < 0.01:
        return  # on the very edge the fall has a corner and no derivative
    found = propagate(path_of, values, spread)
    ours = tail_standard(
        path, drop_mm=crest - leaves, **shape, bar_radius_mm=radius, drop_standard_mm=0.05, run_standard_mm=0.2,
        behind_standard_mm=0.15, below_standard_mm=0.04, front_standard_rad=0.002,
    )  # fmt: skip
    assert ours.rear_fall_rad == pytest.approx(found.standard["rear"], rel=1e-6)
    assert ours.break_rad == pytest.approx(found.standard["bend"], rel=1e-6)
    assert ours.clearance_mm == pytest.approx(found.standard["clearance"], rel=1e-6)


@given(between(20, 120), between(0.05, 0.4), SMALL, between(0.0005, 0.02))
def test_force(tension, bend, u_tension, u_bend):
    force = saddle_force(tension, front_fall_rad=0.0, rear_fall_rad=bend)
    found = propagate(
        lambda tension, bend: saddle_force(tension, front_fall_rad=0.0, rear_fall_rad=bend).resultant_n,
        {"tension": tension, "bend": bend}, {"tension": u_tension, "bend": u_bend},
    )  # fmt: skip
    ours = force_standard_n(force, tension_n=tension, break_rad=bend, tension_standard_n=u_tension,
                            break_standard_rad=u_bend)  # fmt: skip
    assert ours == pytest.approx(found.standard, rel=1e-6)


@given(between(-40, 40), between(0.01, 2), between(300, 900), between(3, 20))
def test_move(cents, u_cents, scale, fret):
    found = propagate(lambda c: intonation_move_mm(c, open_mm=scale, fret=fret), {"c": cents}, {"c": u_cents})
    assert move_standard_mm(cents, u_cents, open_mm=scale, fret=fret) == pytest.approx(found.standard, rel=1e-6)


def test_what_is_missing_has_no_uncertainty():
    path = tail_path([15.0, np.nan], 9.0, run_mm=40.0, front_fall_rad=0.05)
    ours = tail_standard(path, drop_mm=[6.0, np.nan], run_mm=40.0, drop_standard_mm=0.1)
    assert np.isnan(ours.break_rad).tolist() == [False, True]
    assert np.isnan(ours.clearance_mm).all()
