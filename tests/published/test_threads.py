"""Thread pitches against printed charts."""

import numpy as np
import pytest

from geometry.threads import pitch_mm, travel_mm, turns

# Coarse pitches of ISO 261 as given by two chart pages and by the open-source part library bd_warehouse 0.4.0; read.
METRIC = [("M2", 0.4), ("M2.5", 0.45), ("M3", 0.5), ("M4", 0.7), ("M5", 0.8), ("M6", 1.0), ("M8", 1.25)]
# Unified sizes by their threads per inch (ASME B1.1), same library, 25.4 mm to the inch; read, pitch computed.
UNIFIED = [
    ("#4-40", 0.635), ("#6-32", 0.79375), ("#8-32", 0.79375), ("#10-32", 0.79375), ("1/4-20", 1.27),
    ("5/16-24", 1.0583333333333333),
]  # fmt: skip


@pytest.mark.parametrize(("thread", "pitch"), METRIC + UNIFIED)
def test_pitches(thread, pitch):
    assert pitch_mm(thread) == pytest.approx(pitch, rel=1e-12)


def test_travel_of_a_turn_is_the_lead():
    """Baker & Haynes, Engineering Statics (2020), 'Screw thread properties': a single-start thread advances by its
    pitch; read."""
    assert travel_mm(1.0, pitch_mm=pitch_mm("M4")) == 0.7
    there = travel_mm(np.array([-2.5, 0.375]), pitch_mm=0.79375)
    assert turns(there, pitch_mm=0.79375) == pytest.approx([-2.5, 0.375], rel=1e-15)
