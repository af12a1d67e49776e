"""Set-backs: against scipy's general solver and the closed form, symmetry, batches, a crest moved as advised."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares

from geometry import setbacks as module
from geometry.errors import GeometryError
from geometry.fretting import Elastic, Fretting, Placement
from geometry.intonation import intonation_move_mm, learned_move
from geometry.prediction import fretted_cents
from geometry.setback_formula import closed_form_setbacks, closed_form_weights
from geometry.setbacks import least_squares_setbacks, setback_range
from tests.geometry.nylon_and_steel import (
    CLASSICAL,
    ELECTRIC,
    NYLON,
    STEEL,
    common_instruments,
    guitars,
    manners,
    one_of,
    reversed_strings,
    strings,
)


@settings(max_examples=15)
@given(strings(1), guitars(1), manners(), st.sampled_from([("both", 12), ("saddle", 22), ("nut", 5)]))
def test_second_opinion_of_scipy(elastic, guitar, manner, case):
    free, frets = case
    ends = {"both": ["saddle_back_mm", "nut_back_mm"], "saddle": ["saddle_back_mm"], "nut": ["nut_back_mm"]}[free]

    def cents(backs):
        moved = replace(guitar, **dict(zip(ends, backs, strict=True)))
        return fretted_cents(elastic, moved, fretting=manner, frets=frets).cents[:, 0]

    theirs = least_squares(cents, np.zeros(len(ends)), xtol=1e-15, ftol=1e-15, gtol=1e-15)
    ours = least_squares_setbacks(elastic, guitar, fretting=manner, frets=frets, free=free)
    found = [{"saddle_back_mm": ours.saddle_mm, "nut_back_mm": ours.nut_mm}[end][0] for end in ends]
    assert found == pytest.approx(theirs.x, abs=1e-5)
    assert ours.rms_cents[0] == pytest.approx(np.sqrt((theirs.fun**2).mean()), abs=1e-7)


@settings(max_examples=20)
@given(strings(6), guitars(6), manners())
def test_one_fret_and_one_end_come_exactly_true(elastic, guitar, manner):
    found = least_squares_setbacks(elastic, guitar, fretting=manner, frets=[12], free="saddle")
    there = replace(guitar, saddle_back_mm=found.saddle_mm)
    assert fretted_cents(elastic, there, fretting=manner, frets=[12]).cents == pytest.approx(np.zeros((1, 6)), abs=1e-6)
    assert (found.nut_mm == guitar.nut_back_mm).all()


@given(common_instruments(), st.floats(-6, 6))
def test_a_crest_moved_as_advised_makes_the_octave_true(instrument, aside):
    """Up to 20 cents out, read in the elastic model, moved as advised, first from the stretch held, then from both
    readings: true to 0.05 cents after two rounds."""
    elastic, guitar, manner = instrument
    true = least_squares_setbacks(elastic, guitar, fretting=manner, frets=[12], free="saddle").saddle_mm
    places, readings = [true + aside], []
    for one in range(2):
        readings.append(octave_cents(elastic, guitar, manner, places[-1]))
        assume(np.abs(readings[0]).max() <= 20.0)
        open_mm = guitar.scale_mm + places[-1]
        if one == 0:
            move = intonation_move_mm(readings[0], open_mm=open_mm, fretted_mm=guitar.scale_mm / 2 + places[0])
        else:
            so_far = (np.stack(places, axis=-1), np.stack(readings, axis=-1))
            move = learned_move(*so_far, open_mm=open_mm, tuner_cents=0.01).move_mm
        places.append(places[-1] + move)
    assert octave_cents(elastic, guitar, manner, places[-1]) == pytest.approx(np.zeros(6), abs=0.05)


def octave_cents(elastic, guitar, manner, saddle_mm):
    return fretted_cents(elastic, replace(guitar, saddle_back_mm=saddle_mm), fretting=manner, frets=[12]).cents[0]


@pytest.mark.parametrize("ends", [(0.0, 0.0), (1.0, 0.0), (0.5, 0.2), (1.0, 1.0)])
def test_closed_form_is_near_the_exact_one(ends):
    """Of second order: within 0.15 mm for nylon, pressed at the fret, nut clamped like the fret."""
    manner = Fretting(press_mm=0, saddle_clamp=ends[0], nut_clamp=ends[1], fret_clamp=ends[1])
    exact = least_squares_setbacks(NYLON, CLASSICAL, fretting=manner)
    saddle, nut = closed_form_setbacks(
        NYLON, scale_mm=650, nut_mm=1.0, climb_mm=4.0, saddle_clamp=ends[0], fret_clamp=ends[1]
    )  # fmt: skip
    assert saddle == pytest.approx(exact.saddle_mm, abs=0.15)
    assert nut == pytest.approx(exact.nut_mm, abs=0.02)


def test_closed_form_meets_the_exact_one_in_its_limit():
    """A string that hardly bends but answers strongly to stretching, low over the frets: what the closed form leaves
    out (heights in the lengths, thinning, higher orders) is then a thousandth."""
    string = Elastic(5000.0, 0.01)
    exact = least_squares_setbacks(string, Placement(650.0, 0.02, 0.1), fretting=Fretting(press_mm=0))
    saddle, nut = closed_form_setbacks(string, scale_mm=650, nut_mm=0.02, climb_mm=0.08)
    assert saddle == pytest.approx(exact.saddle_mm, rel=2e-3)
    assert nut == pytest.approx(exact.nut_mm, rel=2e-3)


def test_projections_by_another_way():
    """Second opinion: numpy's least squares."""
    gamma = 2 ** (np.array([2.0, 5.0, 9.0, 17.0]) / 12)
    basis = np.stack([gamma - 1, np.ones(4)], axis=-1)
    for name, term in (("stretch", gamma**2 / (gamma - 1)), ("bend", gamma**2 - 1)):
        expected = np.linalg.lstsq(basis, term, rcond=None)[0]
        assert closed_form_weights([2, 5, 9, 17])[name] == pytest.approx(expected, rel=1e-10)


@pytest.mark.parametrize(("elastic", "guitar"), [(NYLON, CLASSICAL), (STEEL, ELECTRIC)])
def test_more_clamp_needs_more_setback(elastic, guitar):
    found = setback_range(elastic, guitar, frets=[12], free="saddle")
    assert (found.pinned.saddle_mm < found.assumed.saddle_mm).all()
    assert (found.assumed.saddle_mm < found.clamped.saddle_mm).all()
    only = least_squares_setbacks(elastic, guitar, frets=[12], free="saddle")
    assert (found.assumed.saddle_mm == only.saddle_mm).all()


@settings(max_examples=15)
@given(strings(6), guitars(6), manners())
def test_mirrored_instruments_give_mirrored_setbacks(elastic, guitar, manner):
    one = least_squares_setbacks(elastic, guitar, fretting=manner)
    other = least_squares_setbacks(*map(reversed_strings, (elastic, guitar)), fretting=manner)
    assert other.saddle_mm == pytest.approx(one.saddle_mm[::-1], abs=1e-9)
    assert other.nut_mm == pytest.approx(one.nut_mm[::-1], abs=1e-9)


def test_a_batch_equals_one_at_a_time():
    random = np.random.default_rng(4)
    guitar = Placement(
        np.full((5, 6), 640.0), nut_mm=random.uniform(0.3, 1.2, (5, 6)), crest_mm=random.uniform(2, 6, (5, 6)),
    )  # fmt: skip
    whole = least_squares_setbacks(STEEL, guitar)
    assert whole.remains_cents.shape == (5, 12, 6)
    for one in range(5):
        single = least_squares_setbacks(STEEL, one_of(guitar, one))
        assert whole.saddle_mm[one] == pytest.approx(single.saddle_mm, abs=1e-9)
        assert whole.nut_mm[one] == pytest.approx(single.nut_mm, abs=1e-9)
        assert whole.rms_cents[one] == pytest.approx(single.rms_cents, abs=1e-9)


def test_missing_strings_and_frets():
    crown = np.zeros((12, 6))
    crown[:, 1] = np.nan
    crown[3, 4] = np.nan
    found = least_squares_setbacks(NYLON, replace(CLASSICAL, crown_mm=crown))
    assert np.isnan(found.saddle_mm).tolist() == [False, True, False, False, False, False]
    others = [n for n in range(1, 13) if n != 4]
    without = least_squares_setbacks(NYLON, replace(CLASSICAL, crown_mm=np.zeros((11, 6))), frets=others)
    assert found.saddle_mm[4] == pytest.approx(without.saddle_mm[4], abs=1e-7)


def test_weights_choose_the_frets_that_count():
    weights = np.zeros(12)
    weights[[4, 11]] = 1.0
    found = least_squares_setbacks(NYLON, CLASSICAL, weights=weights)
    assert found.remains_cents[[4, 11]] == pytest.approx(np.zeros((2, 6)), abs=1e-6)
    assert found.rms_cents == pytest.approx(np.zeros(6), abs=1e-6)


def test_what_does_not_settle_says_so(monkeypatch):
    monkeypatch.setattr(module, "MOST_ROUNDS", 1)
    with pytest.raises(GeometryError, match=r"the last step was [\d.]+ mm, the tolerance is 1e-08 mm"):
        least_squares_setbacks(NYLON, CLASSICAL)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"free": "bridge"}, "free is 'bridge'; it must be one of both, saddle, nut."),
        ({"frets": [12]}, "frets is [12]; it must be at least two different frets where both ends are free."),
        ({"weights": [1.0, 2.0]}, "weights is (2, 1); it must be of one weight for each of 12 frets."),
        ({"weights": -np.ones(12)}, "weights is -1; it must be 0 or more."),
    ],
)
def test_bad_options_are_named(options, words):
    with pytest.raises(GeometryError) as found:
        least_squares_setbacks(NYLON, CLASSICAL, **options)
    assert str(found.value) == words
