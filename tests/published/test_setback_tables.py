"""Predicted set-backs against published ones; the errors are printed, the worst of each named."""

import numpy as np
import pytest

from geometry.fretting import Fretting, Placement
from geometry.setback_formula import closed_form_setbacks
from geometry.setbacks import least_squares_setbacks
from tests.published.paper import FROM_CLOSED_FORM, GUITAR, SETS

AT_THE_FRET = Fretting(press_mm=0.0)


def predicted(name):
    """Set-backs as the table's revision had them worked out: in closed form, or by least squares of the exact form."""
    elastic = SETS[name].elastic()
    exact = least_squares_setbacks(elastic, GUITAR, fretting=AT_THE_FRET)
    if name in FROM_CLOSED_FORM:
        return (*closed_form_setbacks(elastic, scale_mm=650.0, nut_mm=1.0, climb_mm=4.0), exact.rms_cents)
    return exact.saddle_mm, exact.nut_mm, exact.rms_cents


# Closed form to a printed digit; the exact form to a little more, for R is printed rounded and the revisions differ.
@pytest.mark.parametrize("name", SETS)
def test_tables_of_setbacks(name):
    strings = SETS[name]
    saddle, nut, rms = predicted(name)
    known = ~np.isnan(strings.saddle_mm)
    near = (0.01, 0.01, 0.03) if name in FROM_CLOSED_FORM else (0.04, 0.01, 0.01)
    assert saddle[known] == pytest.approx(strings.saddle_mm[known], abs=near[0])
    assert nut[known] == pytest.approx(strings.nut_mm[known], abs=near[1])
    assert rms[known] == pytest.approx(strings.rms_cents[known], abs=near[2])


def test_errors_are_shown(show):
    """35 strings of six sets: where the model stands against the paper's tables, in mm, and the worst of them."""
    lines, worst = [], {"saddle": (0.0, ""), "nut": (0.0, "")}
    for name, strings in SETS.items():
        saddle, nut, _ = predicted(name)
        for end, error in (("saddle", saddle - strings.saddle_mm), ("nut", nut - strings.nut_mm)):
            lines.append(f"set {name} {end:6s} " + " ".join(f"{one:+.3f}" for one in error))
            one = int(np.nanargmax(np.abs(error)))
            worst[end] = max(worst[end], (float(abs(error[one])), f"set {name}, {strings.note[one]}"))
    show(
        "Set-backs against the published tables (E4 B3 G3 D3 A2 E2), predicted less printed, mm", *lines,
        *(f"worst at the {end}: {size:.3f} mm, {where}" for end, (size, where) in worst.items()),
    )  # fmt: skip
    assert worst["saddle"][0] <= 0.04
    assert worst["nut"][0] <= 0.01


def test_mean_setbacks_over_five_sets():
    """Anderson & Beausoleil (2024): without set B, 1.9 ± 0.4 mm at the saddle, −0.37 ± 0.03 at the nut; saddle
    set-backs (4.4 ± 0.2) times the string's radius; read. They come from the closed form: the exact one has 1.83 mm."""
    radius = np.array([SETS[name].radius_mm for name in "ACDEF"])
    found = [closed_form_setbacks(SETS[name].elastic(), scale_mm=650, nut_mm=1, climb_mm=4) for name in "ACDEF"]
    saddle, nut = np.swapaxes(found, 0, 1)
    assert saddle.mean() == pytest.approx(1.9, abs=0.05)
    assert saddle.std() == pytest.approx(0.4, abs=0.05)
    assert nut.mean() == pytest.approx(-0.37, abs=0.02)
    assert (saddle * radius).sum() / (radius * radius).sum() == pytest.approx(4.4, abs=0.2)


def test_pressing_further_back_moves_both_ends_alike():
    """Same paper: from 0 to 10 mm behind the fret the mean saddle set-back of set A falls by less than 5 %, the nut's
    grows by almost 30 %, their difference stays; and a polynomial in d/X₀ for the nut; read."""
    at, behind = (
        least_squares_setbacks(SETS["A"].elastic(), GUITAR, fretting=Fretting(press_mm=one)) for one in (0.0, 10.0)
    )
    assert 0.95 < behind.saddle_mm.mean() / at.saddle_mm.mean() < 1.0
    assert behind.nut_mm.mean() / at.nut_mm.mean() == pytest.approx(1.28, abs=0.03)
    assert (behind.saddle_mm - behind.nut_mm).mean() == pytest.approx((at.saddle_mm - at.nut_mm).mean(), abs=0.02)
    share = 10.0 / 650
    assert behind.nut_mm.mean() / at.nut_mm.mean() == pytest.approx(1 + 13 * share + 280 * share**2, abs=0.01)


# G. Byers, American Lutherie 47 (1996): recommended positions for nylon strings on a classical guitar, found by a model
# and checked by trial; quoted on a player's page of 2017 that describes building them. Strings of that time, whose R is
# not known: this says how far strings differ as much as how far the model errs.
RECOMMENDED = {"saddle": [1.3, 2.1, 3.1, 1.5, 1.7, 2.9], "nut": [-0.3, -0.7, -1.0, -0.5, -0.5, -0.5]}


def test_positions_recommended_in_the_trade(show):
    guitar = Placement(650, nut_mm=1.0, crest_mm=5.0)
    found = least_squares_setbacks(SETS["A"].elastic(), guitar)
    errors = {"saddle": found.saddle_mm - RECOMMENDED["saddle"], "nut": found.nut_mm - RECOMMENDED["nut"]}
    worst = {end: int(np.abs(error).argmax()) for end, error in errors.items()}
    show(
        "Set A of 2024 against positions recommended in 1996 (E4 B3 G3 D3 A2 E2), predicted less printed, mm",
        *(f"{end:6s} " + " ".join(f"{one:+.2f}" for one in error) for end, error in errors.items()),
        *(f"worst at the {end}: {errors[end][one]:+.2f} mm, {SETS['A'].note[one]}" for end, one in worst.items()),
    )  # fmt: skip
    assert np.abs(errors["saddle"]).max() < 1.0
    assert np.abs(errors["nut"]).max() < 0.7
    # Both put the third string furthest back among the trebles, and the sixth among the basses.
    for saddle in (found.saddle_mm, np.array(RECOMMENDED["saddle"])):
        assert saddle[:3].argmax() == 2
        assert saddle[3:].argmax() == 2
