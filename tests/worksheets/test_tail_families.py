"""The angle behind the crest where nothing is turned: plate, block, headless tuner, wrapped casting."""

import math

import numpy as np
import pytest

from shop.worksheets.checks.bench import Bench
from shop.worksheets.evaluation import evaluate_sheet
from shop.worksheets.families import FAMILIES
from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE
from shop.worksheets.plan.solve import plan_of
from shop.worksheets.wording.said import Said
from tests.worksheets.plan_cast import received, sheet, spec

READ = received(height_12=(1.85, 1.77, 1.69, 1.61, 1.53, 1.45), nut_gap=0.15) | {
    "received.relief": 0.2, "received.crest_height_bass": 12.0, "received.crest_height_treble": 12.0,
}  # fmt: skip
PLATES = ("flat_plate", "vibrato", "headless")


def on(family, **values):
    return sheet(READ, family=family, spec=spec(family, **values))


@pytest.mark.parametrize("family", sorted(FAMILIES))
def test_every_family_asks_for_the_angle_behind_the_crest(family):
    assert "break_angle" in FAMILIES[family].steps_of_checks
    assert FAMILIES[family].tail


@pytest.mark.parametrize("family", PLATES)
def test_a_hole_in_plate_or_block_is_a_straight_line(family):
    """Plane trigonometry: tan of the rear fall is drop over run."""
    tail = Bench(on(family, hole_run_mm=14.0, hole_height_mm=7.0), Said()).part("tail")
    assert np.tan(tail.path.rear_fall_rad[[0, -1]]) == pytest.approx(5.0 / 14.0)


def test_a_wrap_is_a_tangent_to_its_round():
    """From a point at distance D to a circle of radius r the tangent lies asin(r/D) off the centre's direction."""
    tail = Bench(on("wraparound", wrap_run_mm=11.0, wrap_drop_mm=8.5, wrap_radius_mm=6.5), Said()).part("tail")
    radius = 6.5 + 1.17 / 2
    wanted = math.atan2(8.5, 11.0) - math.asin(radius / math.hypot(8.5, 11.0))
    assert tail.path.rear_fall_rad[0] == pytest.approx(wanted)


def test_a_wrap_goes_up_with_its_studs_and_bends_as_before():
    crests = ("received.crest_height_bass", "received.crest_height_treble")
    low, high = (
        Bench(sheet(READ | dict.fromkeys(crests, one), family="wraparound", spec=spec("wraparound")), Said())
        for one in (11.0, 14.0)
    )
    assert low.part("tail").path.break_rad == pytest.approx(high.part("tail").path.break_rad)
    assert low.judged("break_angle")[6].spread == 0.0


@pytest.mark.parametrize("family", [*PLATES, "wraparound"])
def test_usual_figures_are_in_range(family):
    findings = evaluate_sheet(on(family)).findings
    assert {one.verdict for one in findings if one.check == "break_angle"} == {IN_RANGE}


@pytest.mark.parametrize(
    ("family", "flat"),
    [("flat_plate", {"hole_height_mm": 12.0}), ("vibrato", {"hole_height_mm": 12.0}),
     ("headless", {"hole_height_mm": 12.0}), ("wraparound", {"wrap_drop_mm": 6.5})],
)  # fmt: skip
def test_where_nothing_turns_it_says_what_else_gives_the_angle(family, flat):
    finding = evaluate_sheet(on(family, **flat)).finding("break_angle:6")
    assert finding.verdict == OUT_OF_RANGE
    assert "There is nothing to turn" in finding.move
    assert FAMILIES[family].steeper in finding.move
    warned = {one.what: one for one in plan_of(on(family, **flat)).warned}
    assert FAMILIES[family].steeper in warned["angle"].why
