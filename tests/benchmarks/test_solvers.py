"""The package's own solvers against scipy's general ones on the same problems: same answers, ratio printed."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import least_squares, linprog, lsq_linear

from geometry.fitting import BOUNDS, fit_fretting
from geometry.fretting import Fretting, Placement
from geometry.least_squares import bounded_least_squares
from geometry.prediction import fretted_cents
from geometry.setbacks import least_squares_setbacks
from geometry.window import stud_window
from tests.benchmarks.clock import seconds, show
from tests.geometry.nylon_and_steel import STEEL, one_of

COUNT = 200


def compared(name, ours, theirs, count, rounds=3):
    """Time per problem of both; ours is given all of them at once, a general solver takes one at a time."""
    mine, general = seconds(ours, rounds) / count, seconds(theirs, 1) / count
    show(f"{name}: {1e6 * mine:.1f} µs, scipy {1e6 * general:.0f} µs: {general / mine:.0f} times")
    assert general > mine


def test_bounded_least_squares():
    """Two ends of a bridge for six strings, within bounds, against `lsq_linear`."""
    random = np.random.default_rng(1)
    matrix, target = random.normal(size=(COUNT, 6, 2)), random.normal(size=(COUNT, 6))
    bounds = (np.array([-0.3, -0.3]), np.array([0.3, 0.3]))
    ours = bounded_least_squares(matrix, target, lower=bounds[0], upper=bounds[1])
    for i in range(COUNT):
        expected = lsq_linear(matrix[i], target[i], bounds, tol=1e-14).x
        assert ours.solution[i] == pytest.approx(expected, abs=1e-6)
    compared(
        "bounded least squares of two ends", lambda: bounded_least_squares(matrix, target, lower=-0.3, upper=0.3),
        lambda: [lsq_linear(one, other, bounds, tol=1e-14) for one, other in zip(matrix, target, strict=True)], COUNT,
    )  # fmt: skip


def test_stud_window():
    """The best setting of both studs, a linear programme, against `linprog`."""
    random = np.random.default_rng(2)
    lateral = np.linspace(-26, 25, 6)
    lower = random.uniform(1, 5, (COUNT, 6))
    upper = lower + random.uniform(1, 6, (COUNT, 6))
    shares = np.stack([0.5 - lateral / 82, 0.5 + lateral / 82], axis=-1)
    ones = np.ones((6, 1))
    # Unknowns: both studs and the least margin, which is made as great as can be.
    table = np.vstack([np.hstack([shares, ones]), np.hstack([-shares, ones]),
                       [[1, 0, 1], [0, 1, 1], [-1, 0, 1], [0, -1, 1], [1, -1, 0], [-1, 1, 0]]])  # fmt: skip

    def room(i):
        limits = np.concatenate([upper[i], -lower[i], [60, 60, 0, 0, 1, 1]])
        return -linprog([0, 0, -1], A_ub=table, b_ub=limits, bounds=[(None, None)] * 3).fun

    def ours():
        return stud_window(
            lower, upper, bass_mm=5.0, treble_mm=5.0, lateral_mm=lateral, span_mm=82.0, difference_most_mm=1.0
        )

    assert ours().room_mm == pytest.approx([room(i) for i in range(COUNT)], abs=1e-6)
    compared("best setting of two studs", ours, lambda: [room(i) for i in range(COUNT)], COUNT)


def guitars(count):
    random = np.random.default_rng(3)
    return Placement(
        np.full((count, 6), 640.0), nut_mm=random.uniform(0.3, 0.8, (count, 6)),
        crest_mm=random.uniform(2.5, 4.0, (count, 6)), saddle_back_mm=random.uniform(0, 3, (count, 6)),
    )  # fmt: skip


def test_setbacks():
    """Both ends of six strings over twelve frets against `least_squares`."""
    placement = guitars(COUNT)

    def theirs(i, string):
        one = Placement(640.0, placement.nut_mm[i, string], placement.crest_mm[i, string])
        elastic = type(STEEL)(STEEL.stretch_ratio[string], STEEL.bend_length_mm[string])

        def cents(backs):
            moved = replace(one, saddle_back_mm=backs[0], nut_back_mm=backs[1])
            return fretted_cents(elastic, moved).cents[:, 0]

        return least_squares(cents, [0.0, 0.0], xtol=1e-12, ftol=1e-12, gtol=1e-12).x

    found = least_squares_setbacks(STEEL, placement)
    for i, string in ((0, 0), (3, 5), (9, 2)):
        expected = theirs(i, string)
        assert [found.saddle_mm[i, string], found.nut_mm[i, string]] == pytest.approx(expected, abs=1e-5)
    few = 8
    mine = seconds(lambda: least_squares_setbacks(STEEL, placement), 3) / (6 * COUNT)
    general = seconds(lambda: [theirs(i, string) for i in range(few) for string in range(6)], 1) / (6 * few)
    show(f"set-backs of a string: {1e6 * mine:.1f} µs, scipy {1e6 * general:.0f} µs: {general / mine:.0f} times")
    assert general > mine


def test_fit_to_finished_instruments():
    """Two parameters over 200 guitars against bounded `least_squares`."""
    placement, names = guitars(COUNT), ("saddle_clamp", "press_depth_mm")
    true = fretted_cents(STEEL, placement, fretting=Fretting(saddle_clamp=0.6, press_depth_mm=0.2), frets=[1, 12]).cents
    readings = true + np.random.default_rng(4).normal(0, 1.5, true.shape)

    def remains(values):
        manner = Fretting(saddle_clamp=values[0], press_depth_mm=values[1])
        return (fretted_cents(STEEL, placement, fretting=manner, frets=[1, 12]).cents - readings).ravel()

    def ours():
        return fit_fretting(readings, STEEL, placement, frets=[1, 12], free=names)

    bounds = np.array([BOUNDS[name] for name in names]).T

    def theirs():
        return least_squares(remains, [0.5, 0.5], bounds=bounds, x_scale=[1.0, 1.0], xtol=1e-10)

    assert ours().values == pytest.approx(theirs().x, abs=1e-4)
    mine, general = seconds(ours, 3), seconds(theirs, 3)
    times = general / mine
    show(f"fit of two parameters, {COUNT} guitars: {1e3 * mine:.0f} ms, scipy {1e3 * general:.0f}: {times:.1f} times")


def test_cents_map():
    """How long a whole map of 22 frets and six strings takes, alone and among many; batch as one by one."""
    placement = guitars(5_000)
    many = seconds(lambda: fretted_cents(STEEL, placement, frets=22), 3) / 5_000
    one = seconds(lambda: fretted_cents(STEEL, one_of(placement, 0), frets=22), 20)
    show(f"cents map of an instrument: {1e3 * one:.2f} ms alone, {1e6 * many:.0f} µs of 5,000 at once")
    assert many < one
    whole = fretted_cents(STEEL, placement, frets=22).cents[17]
    assert whole == pytest.approx(fretted_cents(STEEL, one_of(placement, 17), frets=22).cents, abs=1e-9)
