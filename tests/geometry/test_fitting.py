"""Fitting finger and ends to finished instruments: recovery, scipy's bounded solver, priors, what cannot be told."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import least_squares

from geometry import fitting as module
from geometry.errors import GeometryError
from geometry.fitting import BOUNDS, fit_fretting
from geometry.fretting import Elastic, Fretting, Placement
from geometry.prediction import fretted_cents
from tests.geometry.nylon_and_steel import NYLON, STEEL, one_of

FRETS = [1, 5, 12]
TRUE = Fretting(saddle_clamp=0.7, press_mm=8.0, press_depth_mm=0.25, fret_clamp=0.3, nut_clamp=0.3)


def shop(count, seed):
    """Finished guitars of one shop: half nylon, half steel, each set up a little differently."""
    random = np.random.default_rng(seed)
    steel = np.arange(count)[:, None] % 2 == 1
    pick = {name: np.where(steel, getattr(STEEL, name), getattr(NYLON, name)) for name in vars(NYLON)}
    guitar = Placement(
        np.where(steel, 640.0, 650.0) + np.zeros((count, 6)),
        nut_mm=np.where(steel, 0.45, 1.0) + random.uniform(-0.1, 0.1, (count, 6)),
        crest_mm=np.where(steel, 3.0, 5.0) + random.uniform(-0.5, 0.5, (count, 6)),
        saddle_back_mm=np.array([2.5, 2.0, 1.6, 2.4, 1.8, 1.2]) + random.uniform(-0.5, 0.5, (count, 6)),
    )
    return Elastic(**pick), guitar


def read(elastic, guitar, noise, seed, manner=TRUE):
    true = fretted_cents(elastic, guitar, fretting=manner, frets=FRETS).cents
    return true + np.random.default_rng(seed).normal(0, noise, true.shape)


def test_exact_readings_give_the_exact_parameters():
    elastic, guitar = shop(4, 1)
    names = ("saddle_clamp", "press_mm", "press_depth_mm")
    start = replace(TRUE, saddle_clamp=1.0, press_mm=10.0, press_depth_mm=0.0)
    found = fit_fretting(read(elastic, guitar, 0.0, 1), elastic, guitar, frets=FRETS, free=names, start=start)
    assert found.values == pytest.approx([0.7, 8.0, 0.25], abs=1e-5)
    assert found.scatter_cents < 1e-5
    assert found.readings == 4 * 3 * 6
    assert float(found.fretting.press_mm[0]) == found.values[1]
    assert found.fretting.fret_clamp[0] == 0.3


def test_noisy_readings_give_them_within_their_uncertainty():
    """Forty shops of a dozen guitars, 1.5 cents of scatter: the errors, in standard uncertainties, are as a normal
    distribution has them."""
    scores = []
    for seed in range(40):
        elastic, guitar = shop(12, seed)
        found = fit_fretting(
            read(elastic, guitar, 1.5, seed), elastic, guitar, frets=FRETS, free=("saddle_clamp", "press_depth_mm"),
            start=TRUE, reading_cents=1.5,
        )  # fmt: skip
        scores.append((found.values - [0.7, 0.25]) / found.standard)
    scores = np.array(scores)
    assert np.abs(scores.mean(axis=0)).max() < 0.5
    assert scores.std(axis=0) == pytest.approx(np.ones(2), abs=0.3)


@pytest.mark.parametrize("seed", [3, 4])
def test_second_opinion_of_scipy(seed):
    """Bounded least squares and its covariance from the Jacobian."""
    elastic, guitar = shop(6, seed)
    readings = read(elastic, guitar, 2.0, seed)
    names = ("saddle_clamp", "press_mm")

    def remains(values):
        manner = replace(TRUE, **dict(zip(names, values, strict=True)))
        return (fretted_cents(elastic, guitar, fretting=manner, frets=FRETS).cents - readings).ravel() / 2.0

    bounds = np.array([BOUNDS[name] for name in names]).T
    theirs = least_squares(remains, [0.5, 10.0], bounds=bounds, xtol=1e-14, ftol=1e-14, gtol=1e-14)
    ours = fit_fretting(readings, elastic, guitar, frets=FRETS, free=names, start=TRUE, reading_cents=2.0)
    assert ours.values == pytest.approx(theirs.x, abs=1e-4)
    covariance = np.linalg.inv(theirs.jac.T @ theirs.jac) * max(2 * theirs.cost / (theirs.fun.size - 2), 1.0)
    assert ours.standard == pytest.approx(np.sqrt(np.diag(covariance)), rel=1e-3)
    between = covariance[0, 1] / np.sqrt(covariance[0, 0] * covariance[1, 1])
    assert ours.correlation[0, 1] == pytest.approx(between, abs=1e-3)


def test_missing_readings_are_left_out():
    elastic, guitar = shop(6, 5)
    readings = read(elastic, guitar, 1.0, 5)
    readings[:, 0] = np.nan
    part = fit_fretting(readings, elastic, guitar, frets=FRETS, start=TRUE)
    only = fit_fretting(readings[:, 1:], elastic, guitar, frets=FRETS[1:], start=TRUE)
    assert part.values == pytest.approx(only.values, abs=1e-9)
    assert part.readings == only.readings == 72
    assert np.isnan(part.remains_cents).sum() == 36


def test_more_guitars_narrow_the_range():
    widths = []
    for count in (2, 8, 32):
        elastic, guitar = shop(count, 6)
        readings = read(elastic, guitar, 1.0, 6)
        widths.append(fit_fretting(readings, elastic, guitar, frets=FRETS, start=TRUE).standard[0])
    assert widths[0] / widths[1] == pytest.approx(2.0, rel=0.3)
    assert widths[1] / widths[2] == pytest.approx(2.0, rel=0.3)


def test_a_value_at_the_end_of_its_range_is_marked():
    elastic, guitar = shop(6, 7)
    too_sharp = read(elastic, guitar, 0.5, 7, replace(TRUE, saddle_clamp=1.0)) + 3.0
    found = fit_fretting(too_sharp, elastic, guitar, frets=FRETS, start=TRUE)
    assert found.values.tolist() == [1.0]
    assert found.at_bound.tolist() == [1]


def test_scatter_beyond_the_readings_widens_the_uncertainty():
    elastic, guitar = shop(6, 8)
    readings = read(elastic, guitar, 4.0, 8)
    given, honest = (
        fit_fretting(readings, elastic, guitar, frets=FRETS, start=TRUE, reading_cents=one) for one in (0.5, 4.0)
    )
    assert given.standard[0] == pytest.approx(honest.standard[0], rel=0.15)
    assert given.scatter_cents == pytest.approx(4.0, rel=0.15)


def test_prior_knowledge_counts_by_its_uncertainty():
    elastic, guitar = shop(2, 9)
    readings = read(elastic, guitar, 1.0, 9)
    free = fit_fretting(readings, elastic, guitar, frets=FRETS, start=TRUE)
    held = fit_fretting(readings, elastic, guitar, frets=FRETS, start=TRUE, prior={"saddle_clamp": (0.2, 1e-4)})
    loose = fit_fretting(readings, elastic, guitar, frets=FRETS, start=TRUE, prior={"saddle_clamp": (0.2, 100.0)})
    assert held.values == pytest.approx([0.2], abs=1e-3)
    assert loose.values == pytest.approx(free.values, abs=1e-4)
    middle = fit_fretting(readings, elastic, guitar, frets=FRETS, start=TRUE, prior={"saddle_clamp": (0.2, 0.02)})
    assert 0.2 < middle.values[0] < free.values[0]
    assert middle.standard[0] < free.standard[0]


def test_what_readings_cannot_tell_apart_is_refused():
    """String beyond the nut and beyond the saddle do the same; a prior on one of them settles it."""
    elastic, guitar = shop(4, 10)
    readings = read(elastic, guitar, 0.5, 10)
    names = ("beyond_nut_mm", "beyond_saddle_mm")
    with pytest.raises(GeometryError, match="tell the parameters apart"):
        fit_fretting(readings, elastic, guitar, frets=FRETS, free=names, start=TRUE)
    found = fit_fretting(
        readings, elastic, guitar, frets=FRETS, free=names, start=TRUE, prior={"beyond_saddle_mm": (20.0, 5.0)}
    )  # fmt: skip
    assert found.values[1] == pytest.approx(20.0, abs=10.0)


def test_the_fit_predicts_the_next_guitar_better():
    """From the published default to a shop's own value: octaves of guitars that were not in the fit."""
    elastic, guitar = shop(16, 11)
    readings = read(elastic, guitar, 1.0, 11)
    finished = (one_of(record, slice(12)) for record in (elastic, guitar))
    found = fit_fretting(
        readings[:12], *finished, frets=FRETS, free=("saddle_clamp", "press_depth_mm", "fret_clamp"),
        start=Fretting(nut_clamp=0.3),
    )  # fmt: skip
    errors = [
        fretted_cents(elastic, guitar, fretting=one, frets=[12]).cents[12:, 0] - readings[12:, 2]
        for one in (found.fretting, Fretting())
    ]
    fitted, default = (np.sqrt((one**2).mean()) for one in errors)
    assert fitted < 1.3
    assert fitted < default


def test_what_does_not_settle_says_so(monkeypatch):
    monkeypatch.setattr(module, "MOST_ROUNDS", 1)
    elastic, guitar = shop(2, 12)
    with pytest.raises(GeometryError, match=r"the last step was \[.*\], the tolerance is 1e-08 of the range"):
        fit_fretting(read(elastic, guitar, 1.0, 12), elastic, guitar, frets=FRETS, start=TRUE)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"free": ("humour",)}, "free is 'humour'; it must be one of press_mm"),
        ({"free": ()}, "at least one name, each only once"),
        ({"free": ("press_mm", "press_mm")}, "at least one name, each only once"),
        ({"frets": [12]}, r"measured_cents is \(2, 3, 6\); it must be shaped \(..., 1, strings\)"),
        ({"prior": {"press_mm": (8.0, 1.0)}}, r"prior is \['press_mm'\]; it must be for parameters that are free"),
        ({"prior": {"saddle_clamp": (0.5, 0.0)}}, "prior is 0; it must be above 0"),
        ({"reading_cents": 0.0}, "reading_cents is 0; it must be above 0"),
    ],
)
def test_bad_arguments_are_named(options, words):
    elastic, guitar = shop(2, 13)
    with pytest.raises(GeometryError, match=words):
        fit_fretting(read(elastic, guitar, 1.0, 13), elastic, guitar, **{"frets": FRETS, **options})
