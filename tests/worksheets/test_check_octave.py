"""Octave and the saddle's move.

With the stretch held a fretted length ℓ that is c cents sharp needs ℓ(a − 1)/(1 − a/2), a = 2^(c/1200): near
L·ln 2/1200 for each cent (derived).
"""

import math

import pytest

from shop.worksheets.evaluation import evaluate_sheet
from tests import worksheet_builders as build

PER_CENT = 628.0 * math.log(2) / 1200  # 0.3627 mm


def evaluated(values, **more):
    return evaluate_sheet(build.sheet(values, **more))


def test_a_sharp_octave_takes_the_saddle_back():
    finding = evaluated({"octave:1": 4.0}).finding("octave:1")
    assert finding.verdict == "out_of_range"
    assert finding.move == "Saddle back 1.46 mm (2 7/8 turns)."  # M3: 0.5 mm a turn (ISO 261)
    ratio = 2 ** (4 / 1200)
    assert 314 * (ratio - 1) / (1 - ratio / 2) == pytest.approx(1.456, abs=5e-4)


def test_a_flat_octave_takes_it_forward():
    assert evaluated({"octave:1": -3.0}).finding("octave:1").move.startswith("Saddle forward 1.09 mm")


def test_in_range_needs_no_move():
    finding = evaluated({"octave:1": 0.8}).finding("octave:1")
    assert (finding.verdict, finding.move) == ("in_range", "")


def test_from_the_second_round_the_strings_own_response_counts():
    """6 cents at 5 mm of room, 2 cents at 4 mm: this string answers 4 cents a millimetre, more than the model's 2.76.

    Its own secant asks for 0.5 mm more, the model alone for 2·0.3627 = 0.73 mm: the advice lies between, near its own.
    """
    values = {"saddle_room_back:1": 5.0, "octave:1": 6.0}
    sheet = build.sheet(values)
    later = build.sheet({"saddle_room_back:1": 4.0, "octave:1": 2.0})
    sheet = build.Sheet(**(vars_of(sheet) | {"readings": sheet.readings + later.readings}))
    moved = evaluate_sheet(sheet).numbers["saddles"]["move"][5]
    assert 0.5 <= moved < 0.6


def vars_of(sheet):
    names = ("family", "stringing", "strings", "targets", "spec", "threads", "reference_pitch_hz")
    return {name: getattr(sheet, name) for name in names}


def test_a_second_octave_without_reading_the_travel_starts_afresh():
    """Nobody knows how far the saddle went between them: the newest one stands alone."""
    values = {"saddle_room_back:1": 5.0, "octave:1": [8.0, 3.0]}
    assert evaluated(values).numbers["saddles"]["move"][5] == pytest.approx(3 * PER_CENT, rel=0.01)


def test_after_a_move_it_asks_for_a_new_reading():
    values = {"saddle_room_back:1": 5.0, "octave:1": 4.0}
    sheet, later = build.sheet(values), build.sheet({"saddle_room_back:1": 3.6})
    sheet = build.Sheet(**(vars_of(sheet) | {"readings": sheet.readings + later.readings}))
    move = evaluate_sheet(sheet).finding("octave:1").move
    assert move == "The saddle has gone 1.40 mm back since this was read: tune, and read it again."


def test_travel_left_is_said():
    values = {"saddle_room_back:1": 5.0, "saddle_facing:1": 1.0, "octave:1": 4.0}
    finding = evaluated(values).finding("octave:1")
    assert finding.move == "Saddle back 1.46 mm (2 7/8 turns). That leaves 3.54 mm to the nearer stop."
    travel = evaluated(values).finding("saddle_travel:1")
    assert (travel.verdict, travel.blocks) == ("in_range", False)


def test_every_round_is_kept_for_the_drawing():
    rounds = evaluated({"octave:1": [8.0, 3.0, 0.4]}).numbers["octave"]["1"]
    assert [one["cents"] for one in rounds] == [8.0, 3.0, 0.4]
