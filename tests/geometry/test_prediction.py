"""The exact sum over frets and strings: limits, second opinions, symmetry, batches."""

from dataclasses import replace

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.fretting import (
    Elastic,
    Fretting,
    Placement,
    elastic_from_sensitivity,
    elastic_from_stiffness,
)
from geometry.prediction import fret_numbers, fretted_cents
from geometry.strings import axial_stiffness_n, bending_stiffness_n_m2
from tests.geometry.nylon_and_steel import (
    CLASSICAL,
    ELECTRIC,
    NYLON,
    STEEL,
    guitars,
    manners,
    reversed_strings,
    strings,
)

LIMP = Elastic(1e-9, 0.0)


def test_a_perfect_string_on_its_frets_is_true():
    flat = Placement(scale_mm=650.0, nut_mm=0.0, crest_mm=0.0)
    assert fretted_cents(LIMP, flat, frets=24).cents == pytest.approx(np.zeros((24, 1)), abs=1e-9)


@given(st.floats(-5, 5), st.floats(-3, 3), st.integers(1, 24))
def test_setbacks_alone_are_lengths_alone(saddle, nut, fret):
    """Nothing but lengths: ``1200·log2((X₀ + ΔS + ΔN)/(γ·(X_n + ΔS)))``."""
    guitar = Placement(650.0, nut_mm=0.0, crest_mm=0.0, saddle_back_mm=saddle, nut_back_mm=nut)
    gamma = 2 ** (fret / 12)
    lengths = 1200 * np.log2((650 + saddle + nut) / (gamma * (650 / gamma + saddle)))
    assert fretted_cents(LIMP, guitar, frets=[fret]).cents[0, 0] == pytest.approx(lengths, abs=1e-8)


def by_hand(elastic, guitar, manner, fret):
    """The paper's own expressions, with 40 digits and without rearranging, for one string."""
    mpmath.mp.dps = 40
    value = {key: mpmath.mpf(float(one[0])) for part in (elastic, guitar, manner) for key, one in vars(part).items()}
    gamma = mpmath.mpf(2) ** (mpmath.mpf(fret) / 12)
    scale, saddle, nut = value["scale_mm"], value["saddle_back_mm"], value["nut_back_mm"]
    low, climb = value["nut_mm"], value["crest_mm"] - value["nut_mm"]
    run = scale / gamma + saddle
    press = min(value["press_mm"], scale / (gamma / mpmath.mpf(2) ** (mpmath.mpf(1) / 12)) - scale / gamma)
    whole = mpmath.sqrt((scale + saddle + nut) ** 2 + climb**2)
    speaking = mpmath.sqrt(run**2 + (low + climb) ** 2)
    depth = (low + climb) * press / run + value["press_depth_mm"]
    behind = mpmath.sqrt(press**2 + depth**2)
    to_nut = mpmath.sqrt((scale - scale / gamma + nut - press) ** 2 + (low + depth) ** 2)
    strain = (speaking + behind + to_nut - whole) / (whole + value["beyond_nut_mm"] + value["beyond_saddle_mm"])
    tension = 1 + value["stretch_ratio"] * strain

    def factor(stiff, ends):
        return 1 + ends * stiff + (ends**2 + mpmath.pi**2 / 2) * stiff**2

    open_ends = value["saddle_clamp"] + value["nut_clamp"]
    ends = value["saddle_clamp"] + value["fret_clamp"]
    bend = value["bend_length_mm"]
    ratio = factor(bend / speaking / mpmath.sqrt(tension), ends) / factor(bend / whole, open_ends)
    pitch = whole / (gamma * speaking) * mpmath.sqrt((1 + strain) * tension) * ratio
    return float(1200 * mpmath.log(pitch, 2))


@given(strings(1), guitars(1), manners(), st.integers(1, 24))
def test_second_opinion_with_forty_digits(elastic, guitar, manner, fret):
    """mpmath: no digits are lost, whatever cancels."""
    found = fretted_cents(elastic, guitar, fretting=manner, frets=[fret]).cents[0, 0]
    assert found == pytest.approx(by_hand(elastic, guitar, manner, fret), abs=1e-9)


@given(strings(6), guitars(6), manners())
def test_parts_add_up(elastic, guitar, manner):
    found = fretted_cents(elastic, guitar, fretting=manner)
    parts = found.length_cents + found.density_cents + found.tension_cents + found.stiffness_cents
    assert found.cents == pytest.approx(parts, abs=1e-12)
    assert found.strain.shape == (12, 6)


def test_first_order_comes_near():
    """``(1200/ln 2)·[(γ − 1)·(ε − ΔS/X₀) + ΔN/X₀ + κ·Q/2]``: within half a cent for nylon."""
    guitar = replace(CLASSICAL, saddle_back_mm=1.8, nut_back_mm=-0.4)
    found = fretted_cents(NYLON, guitar, fretting=Fretting(press_mm=0))
    gamma = 2 ** (np.arange(1, 13) / 12)[:, None]
    epsilon = NYLON.bend_length_mm / 650
    first = (gamma - 1) * (epsilon - 1.8 / 650) - 0.4 / 650 + NYLON.stretch_ratio * found.strain / 2
    assert found.cents == pytest.approx(1200 / np.log(2) * first, abs=0.5)


@pytest.mark.parametrize(("elastic", "guitar"), [(NYLON, CLASSICAL), (STEEL, ELECTRIC)])
def test_what_makes_a_fret_sharper(elastic, guitar):
    usual = fretted_cents(elastic, guitar, frets=22).cents
    sharper = [replace(guitar, nut_mm=guitar.nut_mm + 0.3), replace(guitar, crest_mm=guitar.crest_mm + 0.5)]
    flatter = [replace(guitar, saddle_back_mm=1.0), replace(guitar, nut_back_mm=-0.3)]
    assert all((fretted_cents(elastic, one, frets=22).cents > usual).all() for one in sharper)
    assert all((fretted_cents(elastic, one, frets=22).cents < usual).all() for one in flatter)
    for manner in (Fretting(press_mm=12), Fretting(press_depth_mm=0.3), Fretting(fret_clamp=1, nut_clamp=1)):
        assert (fretted_cents(elastic, guitar, fretting=manner, frets=22).cents >= usual - 1e-12).all()
    slack = Fretting(beyond_nut_mm=100, beyond_saddle_mm=40)
    assert (fretted_cents(elastic, guitar, fretting=slack, frets=22).cents < usual).all()


def test_string_beyond_the_ends_shares_the_stretch():
    manners = (Fretting(beyond_nut_mm=one, beyond_saddle_mm=one / 2) for one in (0, 100))
    stuck, sliding = (fretted_cents(STEEL, ELECTRIC, fretting=one).strain for one in manners)
    assert stuck / sliding == pytest.approx(np.full((12, 6), 1 + 150 / np.hypot(628, 2.75)), rel=1e-12)


def test_the_finger_is_never_behind_the_fret_before():
    manners = (Fretting(press_mm=one) for one in (30.0, 19.3))
    far, near = (fretted_cents(NYLON, CLASSICAL, fretting=one, frets=[12, 20]) for one in manners)
    gap = 650 * (2 ** (-11 / 12) - 2 ** (-1))
    assert gap == pytest.approx(19.3, abs=0.05)
    assert far.cents == pytest.approx(near.cents, abs=2e-3)


def test_crowns_anywhere():
    """A crown that stands higher is a nut and a crest that stand lower by as much."""
    raised = fretted_cents(STEEL, replace(ELECTRIC, crown_mm=np.full((12, 6), 0.2)))
    lower = fretted_cents(STEEL, replace(ELECTRIC, nut_mm=0.25, crest_mm=3.0))
    assert raised.cents == pytest.approx(lower.cents, abs=1e-9)


@given(strings(6), guitars(6), manners())
def test_mirrored_instruments_give_mirrored_answers(elastic, guitar, manner):
    one = fretted_cents(elastic, guitar, fretting=manner).cents
    other = fretted_cents(*map(reversed_strings, (elastic, guitar)), fretting=manner).cents
    assert (other == one[:, ::-1]).all()


@given(st.lists(st.tuples(strings(3), guitars(3)), min_size=4, max_size=4), manners())
def test_a_batch_equals_one_at_a_time(several, manner):
    """Leading axes of shape (2, 2)."""

    def stacked(kind, records):
        fields = {}
        for name in vars(records[0]):
            rows = [np.broadcast_to(getattr(one, name), 3) for one in records]
            fields[name] = np.reshape(rows, (2, 2, 3) if name != "crown_mm" else (2, 2, 1, 3))
        return kind(**fields)

    elastic = stacked(Elastic, [one for one, _ in several])
    guitar = stacked(Placement, [one for _, one in several])
    whole = fretted_cents(elastic, guitar, fretting=manner)
    for number, (one, placed) in enumerate(several):
        single = fretted_cents(one, placed, fretting=manner)
        assert whole.cents[divmod(number, 2)] == pytest.approx(single.cents, abs=1e-9)


def test_a_missing_string_stays_alone():
    crest = np.array([5.0, np.nan, 5.0])
    found = fretted_cents(elastic_from_sensitivity(25, radius_mm=0.4), replace(CLASSICAL, crest_mm=crest)).cents
    assert np.isnan(found[:, 1]).all()
    assert not np.isnan(found[:, [0, 2]]).any()
    crown = np.zeros((12, 3))
    crown[4, 2] = np.nan
    found = fretted_cents(elastic_from_sensitivity(25, radius_mm=0.4), replace(CLASSICAL, crown_mm=crown)).cents
    assert np.argwhere(np.isnan(found)).tolist() == [[4, 2]]


def test_elasticity_from_stiffness():
    """κ = E·A/T and λ = sqrt(E·I/T): for a solid round string λ is sqrt(κ)·r/2."""
    axial, bending = axial_stiffness_n(0.5, young_pa=6e9), bending_stiffness_n_m2(0.5, young_pa=6e9)
    found = elastic_from_stiffness([60.0, 70.0], axial_n=axial, bending_n_m2=bending)
    assert found.bend_length_mm == pytest.approx(np.sqrt(found.stretch_ratio) * 0.25 / 2, rel=1e-12)


def test_arguments_are_left_alone():
    scale, crest = np.array([650.0, 640.0]), np.array([5.0, 5.2])
    guitar = Placement(scale, nut_mm=1.0, crest_mm=crest)
    fretted_cents(elastic_from_sensitivity(25, radius_mm=0.4), guitar)
    assert scale.tolist() == [650.0, 640.0]
    assert guitar.crest_mm is crest


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: Elastic(0, 1), "stretch_ratio is 0; it must be above 0 and finite."),
        (lambda: Fretting(saddle_clamp=1.2), "saddle_clamp is 1.2; it must be from 0 to 1."),
        (lambda: Fretting(press_mm=-1), "press_mm is -1; it must be 0 or more."),
        (
            lambda: Fretting(press_mm=0, press_depth_mm=0.1),
            "press_depth_mm is array([0.1]); it must be at most press_mm.",
        ),
        (lambda: fret_numbers(0), "frets is 0; it must be above 0 and finite."),
        (lambda: fret_numbers([[1, 2]]), "frets is [[1, 2]]; it must be a count, or fret numbers of one axis."),
        (
            lambda: fretted_cents(NYLON, replace(CLASSICAL, crown_mm=np.zeros((3, 6)))),
            "placement.crown_mm is (3, 6); it must be for each of 12 frets, or one for all.",
        ),
        (
            lambda: fretted_cents(NYLON, CLASSICAL, fretting=Fretting(press_mm=40), frets=[1]),
            "fretting.press_mm is 36.4817; it must be short of the nut.",
        ),
    ],
)
def test_bad_arguments_are_named(call, words):
    with pytest.raises(GeometryError) as found:
        call()
    assert str(found.value) == words


def test_setbacks_that_eat_a_fret_are_refused():
    for end, back in (("saddle_back_mm", -330.0), ("nut_back_mm", -40.0)):
        with pytest.raises(GeometryError, match=f"placement.{end} is .*every fret is on the string"):
            fretted_cents(NYLON, replace(CLASSICAL, **{end: back}))
