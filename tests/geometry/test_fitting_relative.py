"""Fitting where only the crests of one bridge against each other are known: each bridge's own place comes out, too."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import least_squares

from geometry.errors import GeometryError
from geometry.fitting import fit_fretting
from geometry.prediction import fretted_cents
from tests.geometry.test_fitting import FRETS, TRUE, read, shop

NAMES = ("saddle_clamp", "press_depth_mm")


def adrift(guitar, moved):
    """The placements as a rule in the bridge tells them: each instrument's own zero somewhere else."""
    return replace(guitar, saddle_back_mm=guitar.saddle_back_mm - np.asarray(moved)[:, None])


def test_exact_readings_give_parameters_and_bridges():
    elastic, guitar = shop(5, 21)
    moved = [0.0, 3.0, -1.5, 12.0, 0.4]
    found = fit_fretting(
        read(elastic, guitar, 0.0, 21), elastic, adrift(guitar, moved), frets=FRETS, free=NAMES, start=TRUE,
        places="relative",
    )  # fmt: skip
    assert found.values == pytest.approx([0.7, 0.25], abs=1e-5)
    assert found.bridge_back_mm == pytest.approx(moved, abs=1e-5)


def test_scipy_with_every_bridge_as_an_unknown_agrees():
    """All bridges and both parameters as unknowns of one bounded problem: values and their block of the covariance."""
    elastic, guitar = shop(4, 22)
    readings = read(elastic, guitar, 2.0, 22)
    known = {"frets": FRETS, "free": NAMES, "start": TRUE, "reading_cents": 2.0}
    ours = fit_fretting(readings, elastic, adrift(guitar, [1.0, 0.0, -2.0, 0.5]), places="relative", **known)
    told = replace(guitar, saddle_back_mm=guitar.saddle_back_mm - np.array([1.0, 0.0, -2.0, 0.5])[:, None])

    def remains(values):
        manner = replace(TRUE, **dict(zip(NAMES, values[:2], strict=True)))
        placed = replace(told, saddle_back_mm=told.saddle_back_mm + values[2:, None])
        return (fretted(elastic, placed, manner) - readings).ravel() / 2.0

    low, high = [0.0, 0.0, *[-20.0] * 4], [1.0, 3.0, *[20.0] * 4]
    theirs = least_squares(remains, [0.5, 0.5, 0, 0, 0, 0], bounds=(low, high), xtol=1e-14, ftol=1e-14, gtol=1e-14)
    assert ours.values == pytest.approx(theirs.x[:2], abs=1e-4)
    assert ours.bridge_back_mm == pytest.approx(theirs.x[2:], abs=1e-4)
    covariance = np.linalg.inv(theirs.jac.T @ theirs.jac) * max(2 * theirs.cost / (theirs.fun.size - 6), 1.0)
    assert ours.standard == pytest.approx(np.sqrt(np.diag(covariance)[:2]), rel=1e-3)


def fretted(elastic, placed, manner):
    return fretted_cents(elastic, placed, fretting=manner, frets=FRETS).cents


def test_an_instrument_without_a_reading_changes_nothing():
    elastic, guitar = shop(4, 23)
    readings = read(elastic, guitar, 1.0, 23)
    readings[2] = np.nan
    given = {"frets": FRETS, "free": NAMES, "start": TRUE, "places": "relative"}
    with_it = fit_fretting(readings, elastic, guitar, **given)
    kept = [0, 1, 3]
    parts = (type(one)(**{name: value[kept] if value.shape[0] == 4 else value for name, value in vars(one).items()})
             for one in (elastic, guitar))  # fmt: skip
    without = fit_fretting(readings[kept], *parts, **given)
    assert with_it.values == pytest.approx(without.values, abs=1e-9)
    assert with_it.standard == pytest.approx(without.standard, rel=1e-9)
    assert with_it.bridge_back_mm[2] == 0.0


def test_known_places_move_no_bridge():
    elastic, guitar = shop(3, 24)
    found = fit_fretting(read(elastic, guitar, 1.0, 24), elastic, guitar, frets=FRETS, start=TRUE)
    assert found.bridge_back_mm.tolist() == [0.0, 0.0, 0.0]


def test_one_share_for_every_end():
    elastic, guitar = shop(5, 26)
    alike = replace(TRUE, saddle_clamp=0.6, nut_clamp=0.6, fret_clamp=0.6)
    readings = read(elastic, guitar, 0.0, 26, alike)
    found = fit_fretting(
        readings, elastic, guitar, frets=FRETS, free=("every_clamp",), start=replace(TRUE, nut_clamp=0)
    )  # fmt: skip
    assert found.values == pytest.approx([0.6], abs=1e-6)
    ends = [float(getattr(found.fretting, f"{end}_clamp")[0]) for end in ("saddle", "nut", "fret")]
    assert ends == [found.values[0]] * 3
    with pytest.raises(GeometryError, match="each only once"):
        fit_fretting(readings, elastic, guitar, frets=FRETS, free=("every_clamp", "nut_clamp"))


def test_only_two_kinds_of_places():
    elastic, guitar = shop(2, 25)
    with pytest.raises(GeometryError, match="places is 'near'; it must be one of known, relative"):
        fit_fretting(read(elastic, guitar, 1.0, 25), elastic, guitar, frets=FRETS, places="near")
