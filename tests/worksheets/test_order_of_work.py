"""A move says what has to be set right before it."""

from shop.worksheets.evaluation import evaluate_sheet
from tests import worksheet_builders as build

AFTER = "But first relief: it is out of range, and this follows."


def move(values, key):
    return evaluate_sheet(build.sheet(values)).finding(key).move


def test_height_waits_for_relief():
    assert move({"relief": 0.6, "height_12:6": 2.4, "height_12:1": 1.45}, "height_12:6").endswith(AFTER)


def test_the_octave_waits_for_relief_and_height():
    values = {"relief": 0.6, "height_12:6": 2.4, "height_12:1": 1.45, "octave:1": 5.0}
    assert move(values, "octave:1").endswith(
        "But first relief and string height: they are out of range, and this follows."
    )


def test_it_is_said_once_a_step():
    values = {"relief": 0.6, "height_12:6": 2.4, "height_12:1": 2.2}
    evaluation = evaluate_sheet(build.sheet(values))
    assert sum("But first" in one.move for one in evaluation.by_step["height"]) == 1


def test_relief_waits_for_nothing():
    assert "first" not in move({"relief": 0.6, "height_12:6": 2.4, "height_12:1": 1.45}, "relief")


def test_nothing_is_added_where_all_before_it_is_right():
    assert "first" not in move({"relief": 0.2, "height_12:6": 2.4, "height_12:1": 1.45}, "height_12:6")


def test_what_is_too_close_to_tell_makes_nobody_wait():
    assert "first" not in move({"relief": 0.3, "height_12:6": 2.4, "height_12:1": 1.45}, "height_12:6")
