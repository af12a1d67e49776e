"""The octave asks for more than the saddle's screw has left: as it faces, turned round, or not at all."""

import pytest

from shop.worksheets.evaluation import evaluate_sheet
from tests import worksheet_builders as build

RATIO = 2 ** (15 / 1200)
EXACT = 314.0 * (RATIO - 1.0) / (1.0 - RATIO / 2.0)


def evaluated(room, facing, cents):
    values = {"saddle_room_back:6": room, "octave:6": cents}
    if facing is not None:
        values["saddle_facing:6"] = facing
    return evaluate_sheet(build.sheet(values))


def test_turned_round_it_reaches():
    """6 cents ask for 2.19 mm back, 1 mm is left; flat to the rear carries the crest 2 mm back at once."""
    evaluation = evaluated(1.0, 1.0, 6.0)
    assert evaluation.finding("octave:6").move == (
        "It does not reach as it faces. Turn the saddle round (flat face to the rear), then back 0.19 mm (3/8 turn)."
    )
    direction = evaluation.finding("saddle_direction:6")
    assert (direction.verdict, direction.is_open) == ("out_of_range", False)
    assert direction.move.startswith("Slacken the string, turn the saddle round")


def test_neither_way_reaches():
    """15 cents at 314 mm fretted: 314·(a − 1)/(1 − a/2) = 5.51 mm back, a = 2^(15/1200). 1 mm of screw is left, and

    a saddle that is flat to the rear already gains nothing by turning.
    """
    evaluation = evaluated(1.0, 0.0, 15.0)
    travel = evaluation.finding("saddle_travel:6")
    assert travel.verdict == "out_of_range"
    assert travel.value == pytest.approx(1.0 - EXACT, abs=1e-6)
    assert "it falls 4.51 mm short" in travel.headline
    assert evaluation.finding("octave:6").move == (
        "The crest would have to go 5.51 mm back, and neither as it faces nor turned round does it get there: "
        "4.51 mm short. It needs another saddle, screw or bridge."
    )


def test_an_unknown_facing_is_asked_for():
    move = evaluated(1.0, None, 15.0).finding("octave:6").move
    assert move.endswith("Say which way it faces, to see whether turned round it would.")


def test_it_is_seen_before_the_strings_come_off():
    values = {"received.saddle_room_back:6": 1.0, "received.saddle_facing:6": 0.0, "received.octave:6": 15.0}
    assert evaluate_sheet(build.sheet(values)).finding("saddle_travel:6").verdict == "out_of_range"


def test_a_saddle_whose_octave_is_right_may_stand_at_its_stop():
    finding = evaluated(0.0, 0.0, 0.4).finding("saddle_travel:6")
    assert finding.verdict == "in_range"


def test_only_the_octave_asks_for_acceptance():
    evaluation = evaluated(1.0, 0.0, 15.0)
    assert evaluation.finding("octave:6").is_open
    assert not evaluation.finding("saddle_travel:6").is_open
