"""The exact move of a crest, by brentq, and in an elastic model that knows nothing of it."""

import numpy as np
import pytest
from hypothesis import assume, given
from scipy.optimize import brentq

from geometry.errors import GeometryError
from geometry.fretting import Elastic, Fretting, Placement
from geometry.intonation import cents_after_move, intonation_move_mm, learned_move
from geometry.prediction import fretted_cents
from tests.geometry_cast import between


def octave_cents(set_back, *, scale, height, nut, kappa, clamp):
    """Fretted octave against twice the open string: path lengths, tension and a stiffness term.

    The string at rest runs from slot to crest; fretted, from slot over fret 12 to crest, stretched by the difference:
    tension grows by κ times the strain. Written out here on its own, as a stand-in for the instrument.
    """
    open_length = np.hypot(scale + set_back, height)
    fretted = np.hypot(scale / 2 + set_back, height + nut)
    behind = np.hypot(scale / 2, nut)
    strain = (fretted + behind - open_length) / open_length
    ratio = open_length / (2 * fretted) * np.sqrt((1 + kappa * strain) * (1 + strain))
    return 1200 * np.log2(ratio * (1 + clamp / fretted) / (1 + clamp / open_length))


@given(between(-60, 60), between(300, 900), between(3, 20))
def test_brentq_agrees(cents, scale, fret):
    fretted = scale * 2 ** (-fret / 12)
    stretch = 2 ** (fret / 12) * 2 ** (cents / 1200) * fretted / scale

    def error(move):
        return (scale + move) * stretch - 2 ** (fret / 12) * (fretted + move)

    move = brentq(error, -0.45 * fretted, 2 * scale, xtol=1e-13)
    assert intonation_move_mm(cents, open_mm=scale, fret=fret) == pytest.approx(move, abs=1e-8)


@given(between(-40, 40), between(300, 900), between(3, 20))
def test_after_the_move_it_is_true(cents, scale, fret):
    move = intonation_move_mm(cents, open_mm=scale, fret=fret)
    assert cents_after_move(cents, move, open_mm=scale, fret=fret) == pytest.approx(0.0, abs=1e-9)


def test_near_the_octave_a_cent_is_a_third_of_a_millimetre():
    """L·ln2/1200 per cent: 0.36 mm on 628 mm (derived, first order)."""
    assert intonation_move_mm(0.01, open_mm=628.0) / 0.01 == pytest.approx(628.0 * np.log(2) / 1200, rel=1e-5)


def test_sharp_must_get_longer():
    assert (intonation_move_mm([2.0, -2.0, 0.0], open_mm=628.0) * [1, -1, 0] >= 0).all()


INSTRUMENT = (between(560, 700), between(1, 5), between(0.2, 1.5), between(20, 400), between(0.2, 4), between(-3, 6))


@given(*INSTRUMENT)
def test_two_rounds_of_advice_make_the_octave_true(scale, height, nut, kappa, clamp, start):
    """Read, move as advised, read, move as advised: within 0.05 cents, the tuner being exact."""
    model = {"scale": scale, "height": height, "nut": nut, "kappa": kappa, "clamp": clamp}
    assume(abs(octave_cents(start, **model)) < 40)
    places, read = [start], [octave_cents(start, **model)]
    for _ in range(2):
        advice = learned_move(places, read, open_mm=scale + places[-1], tuner_cents=1e-3)
        places.append(places[-1] + float(advice.move_mm))
        read.append(octave_cents(places[-1], **model))
    assert abs(read[-1]) < 0.05


@given(between(-1, 7), between(20, 300), between(0, 3), between(0, 1))
def test_two_rounds_do_it_in_the_full_elastic_model(start, ratio, bend, clamp):
    """The package's own model of a fretted string, from soft nylon to stiff steel, ends pinned to clamped."""
    elastic, fretting = Elastic(ratio, bend), Fretting(saddle_clamp=clamp)

    def read(back):
        placed = Placement(648.0, nut_mm=0.5, crest_mm=3.5, saddle_back_mm=back)
        return float(fretted_cents(elastic, placed, fretting=fretting, frets=[12]).cents[0, 0])

    places, cents = [start], [read(start)]
    for _ in range(2):
        advice = learned_move(places, cents, open_mm=648.0 + places[-1], tuner_cents=1e-3)
        places.append(places[-1] + float(advice.move_mm))
        cents.append(read(places[-1]))
    assert abs(cents[-1]) < 0.05


def test_one_reading_is_the_models_move():
    move = learned_move([0.0], [2.0], open_mm=628.0)
    assert move.move_mm == pytest.approx(intonation_move_mm(2.0, open_mm=628.0), rel=5e-3)
    assert not move.suspect


def test_a_string_that_answers_twice_as_strongly_is_followed():
    """Exact tuner, far readings: the secant of what was read, not the model."""
    move = learned_move([0.0, 1.0], [9.0, 4.0], open_mm=628.0, tuner_cents=0.01, doubt=1.0)
    assert move.response_cents_per_mm == pytest.approx(-5.0, rel=0.02)
    assert move.move_mm == pytest.approx(0.8, rel=0.02)


def test_noise_of_the_tuner_cannot_throw_it():
    """Two readings a hair apart, differing by noise only: a plain secant would run 30 mm the wrong way."""
    move = learned_move([0.0, 0.05], [3.0, 3.005], open_mm=628.0, tuner_cents=0.3)
    assert move.move_mm == pytest.approx(intonation_move_mm(3.0, open_mm=628.0), rel=0.1)
    assert not move.suspect


def test_a_string_that_answers_the_wrong_way_is_suspect():
    move = learned_move([0.0, 3.0], [3.0, 9.0], open_mm=628.0, tuner_cents=0.1)
    assert move.suspect


def test_the_stated_uncertainty_is_that_of_many_noisy_trials():
    random = np.random.default_rng(8)
    x, slope = np.array([0.0, 1.5, 2.4]), -2.6
    read = slope * (x - 3.0) + random.normal(0, 0.2, (20000, 3))
    found = learned_move(np.broadcast_to(x, read.shape), read, open_mm=628.0, tuner_cents=0.2, doubt=0.3, bend=1e-9)
    assert np.std(found.move_mm) == pytest.approx(np.mean(found.standard_mm), rel=0.15)


def test_readings_not_taken_do_not_count():
    whole = learned_move([0.0, 1.0], [5.0, 2.5], open_mm=628.0)
    gaps = learned_move([0.0, np.nan, 1.0, 2.0], [5.0, 4.0, 2.5, np.nan], open_mm=628.0)
    for name in ("move_mm", "standard_mm", "error_cents"):
        assert getattr(gaps, name) == pytest.approx(getattr(whole, name))
    assert np.isnan(learned_move([np.nan], [np.nan], open_mm=628.0).move_mm)


def test_many_strings_are_as_one_by_one():
    place, read = np.array([[0.0, 1.0, 2.0], [0.0, np.nan, 0.5]]), np.array([[6.0, 3.0, 1.0], [-4.0, 1.0, -3.0]])
    many = learned_move(place, read, open_mm=np.array([628.0, 640.0]))
    for i in range(2):
        one = learned_move(place[i], read[i], open_mm=[628.0, 640.0][i])
        for name in one.__dataclass_fields__:
            assert getattr(many, name)[i] == pytest.approx(getattr(one, name), abs=1e-12)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: intonation_move_mm(1.0, open_mm=-1.0), "open_mm is -1"),
        (lambda: intonation_move_mm(1.0, open_mm=600.0, fretted_mm=600.0), "below open_mm"),
        (lambda: intonation_move_mm(1.0, open_mm=600.0, fret=0), "fret is 0"),
        (lambda: cents_after_move(1.0, -301.0, open_mm=600.0), "less than the fretted length forward"),
        (lambda: learned_move([0.0], [1.0], open_mm=600.0, tuner_cents=0.0), "tuner_cents is 0"),
        (lambda: learned_move(0.0, [1.0], open_mm=600.0), "position_mm"),
    ],
)
def test_bad_arguments(call, message):
    with pytest.raises(GeometryError, match=message):
        call()
