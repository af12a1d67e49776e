"""Screw threads. Metric: ISO 261 coarse pitches; unified: threads per inch of ASME B1.1, both as printed in charts."""

import numpy as np
import pytest

from geometry.errors import GeometryError
from geometry.threads import PITCHES_MM, pitch_mm, travel_mm, turns

CHART = {
    "M2": 0.4, "M2.5": 0.45, "M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25, "#4-40": 0.635, "#6-32": 0.79375,
    "#8-32": 0.79375, "#10-32": 0.79375, "1/4-20": 1.27, "5/16-24": 25.4 / 24,
}  # fmt: skip


@pytest.mark.parametrize(("thread", "pitch"), CHART.items())
def test_pitches_of_the_chart(thread, pitch):
    assert pitch_mm(thread) == pytest.approx(pitch, abs=1e-12)
    assert thread in PITCHES_MM


@pytest.mark.parametrize(
    ("thread", "pitch"),
    [("m4", 0.7), (" M4 ", 0.7), ("M5x0.5", 0.5), ("M8 × 1", 1.0), ("1/4-28", 25.4 / 28), ("#5-40", 0.635)],
)
def test_spelled_out(thread, pitch):
    assert pitch_mm(thread) == pytest.approx(pitch, abs=1e-12)


@pytest.mark.parametrize(
    "thread",
    ["", "M", "M7", "M4x9", "M4x0", "M4x0.01", "8-32x", "#99-32", "1/0-20", "5/16-0", "9/1-20", None, 4, "4 mm"],
)
def test_what_is_no_thread_is_refused(thread):
    with pytest.raises(GeometryError, match="a designation such as M4"):
        pitch_mm(thread)


def test_turns_and_travel_are_inverse():
    travel = np.array([-1.3, 0.0, 0.35, np.nan])
    np.testing.assert_allclose(travel_mm(turns(travel, pitch_mm=0.7), pitch_mm=0.7), travel, rtol=1e-15)


def test_an_unknown_thread_has_no_turns():
    assert np.isnan(turns(1.0, pitch_mm=np.nan))


def test_the_table_cannot_be_changed():
    with pytest.raises(TypeError):
        PITCHES_MM["M4"] = 1.0
