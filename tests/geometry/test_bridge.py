"""Posts and other adjusters: moves that come true, and second opinions."""

import numpy as np
import pytest
from hypothesis import given
from scipy.optimize import lsq_linear

from geometry.bridge import (
    FAMILIES,
    Part,
    adjusters_for,
    crest_changes_mm,
    crest_on_posts_mm,
    lever,
    post_moves,
    solve_moves,
)
from geometry.errors import GeometryError
from geometry.neck import crest_from_height_mm, height_at_fret_mm, nut_from_gap_mm
from geometry.propagation import propagate
from tests.geometry_cast import between, neck, per_string

Y = neck().lateral_bridge_mm


@given(between(0.8, 3), between(0.8, 3), between(0.05, 0.4), between(0, 0.4), per_string(0.5, 3), between(60, 100))
def test_the_advised_moves_bring_both_sides_to_their_heights(bass, treble, gap, relief, height, span):
    """Apply the moves to the model, read again: outer strings at their targets to 1e-9."""
    six = neck()
    nut = nut_from_gap_mm(six, np.full(6, gap), relief_mm=relief)
    crest = crest_from_height_mm(six, height, nut_mm=nut, relief_mm=relief)
    goal = np.array([bass, np.nan, np.nan, np.nan, np.nan, treble])
    moves = post_moves(2.0 * (goal - height), lateral_mm=Y, span_mm=span)
    moved = crest_on_posts_mm(crest, lateral_mm=Y, span_mm=span, bass_mm=moves.bass_mm, treble_mm=moves.treble_mm)
    again = height_at_fret_mm(six, 12, nut_mm=nut, crest_mm=moved, relief_mm=relief)
    np.testing.assert_allclose(again[[0, 5]], [bass, treble], atol=1e-9)


@given(per_string(-2, 2), per_string(0.1, 3))
def test_scipy_agrees_on_both_posts(wanted, weights):
    moves = post_moves(wanted, lateral_mm=Y, span_mm=74.0, weights=weights)
    root = np.sqrt(weights)
    other = lsq_linear(root[:, None] * lever(Y, span_mm=74.0), root * wanted)
    np.testing.assert_allclose([moves.bass_mm, moves.treble_mm], other.x, atol=1e-8)
    np.testing.assert_allclose(moves.remains_mm, wanted - lever(Y, span_mm=74.0) @ other.x, atol=1e-8)


@given(per_string(-2, 2), per_string(0.0, 0.2))
def test_the_moves_uncertainty_is_that_of_propagation(wanted, standard):
    moves = post_moves(wanted, lateral_mm=Y, span_mm=74.0, standard_mm=standard)
    found = propagate(
        lambda wanted: post_moves(wanted, lateral_mm=Y, span_mm=74.0).bass_mm, {"wanted": wanted},
        {"wanted": standard}, per_string=("wanted",),
    )  # fmt: skip
    assert moves.bass_standard_mm == pytest.approx(found.standard, abs=1e-9)


@given(per_string(-2, 2))
def test_mirrored_instruments_give_mirrored_moves(wanted):
    moves = post_moves(wanted, lateral_mm=Y, span_mm=74.0)
    mirrored = post_moves(wanted[::-1], lateral_mm=Y, span_mm=74.0)
    assert mirrored.bass_mm == pytest.approx(moves.treble_mm, abs=1e-12)
    assert mirrored.treble_mm == pytest.approx(moves.bass_mm, abs=1e-12)


def test_one_string_moves_both_posts_alike():
    moves = post_moves([0.3, np.nan], lateral_mm=[-20.0, 20.0], span_mm=74.0)
    assert moves.bass_mm == moves.treble_mm == pytest.approx(0.3)


def test_without_strings_there_is_no_move():
    moves = post_moves([np.nan, np.nan], lateral_mm=[-20.0, 20.0], span_mm=74.0)
    assert np.isnan(moves.bass_mm)
    assert np.isnan(moves.remains_mm).all()


def test_many_bridges_at_once_are_as_one_by_one():
    random = np.random.default_rng(4)
    wanted, spans = random.normal(size=(7, 6)), random.uniform(60, 90, 7)
    wanted[2, 3] = np.nan
    moves = post_moves(wanted, lateral_mm=Y, span_mm=spans)
    for i in range(7):
        one = post_moves(wanted[i], lateral_mm=Y, span_mm=spans[i])
        assert moves.bass_mm[i] == pytest.approx(one.bass_mm, abs=1e-12)
        np.testing.assert_allclose(moves.remains_mm[i], one.remains_mm, atol=1e-12)


@pytest.mark.parametrize("family", FAMILIES)
def test_every_family_reaches_what_its_adjusters_reach(family):
    """Draw moves, see what they do to the crests, solve for it: the crests come out the same."""
    adjusters = adjusters_for(family, Y, span_mm=74.0)
    random = np.random.default_rng(7)
    low, high = np.maximum(adjusters.lower, -1.0), np.minimum(adjusters.upper, 1.0)
    height, along = crest_changes_mm(adjusters, random.uniform(low, high))
    for name, wanted, matrix in (("height_mm", height, adjusters.height), ("along_mm", along, adjusters.along)):
        if matrix.any():
            found = solve_moves(adjusters, **{name: wanted})
            np.testing.assert_allclose((matrix @ found.moves_mm[..., None])[..., 0], wanted, atol=1e-9)
            np.testing.assert_allclose(found.remains_mm, 0.0, atol=1e-9)
            assert (found.moves_mm >= adjusters.lower - 1e-12).all()
            assert (found.moves_mm <= adjusters.upper + 1e-12).all()


def test_names_say_which_side_and_which_string():
    names = adjusters_for("floating", [-20.0, 0.0, 20.0], span_mm=74.0).names
    assert names == ("post bass", "post treble", "bridge_end bass", "bridge_end treble")


def test_set_screws_can_only_push_back():
    adjusters = adjusters_for("wraparound", Y, span_mm=80.0)
    found = solve_moves(adjusters, along_mm=np.full(6, -1.0))
    np.testing.assert_allclose(found.moves_mm, 0.0, atol=1e-12)
    np.testing.assert_allclose(found.remains_mm, -1.0, atol=1e-12)
    assert found.at_bound.tolist() == [0, 0, -1, -1]


def test_travel_left_bounds_the_moves():
    adjusters = adjusters_for("two_post_stop", Y, span_mm=74.0)
    upper = np.r_[[0.2, 0.2], np.full(6, np.inf)]
    found = solve_moves(adjusters, height_mm=np.full(6, 1.0), upper_mm=upper)
    np.testing.assert_allclose(found.moves_mm[:2], 0.2, atol=1e-12)
    np.testing.assert_allclose(found.remains_mm, 0.8, atol=1e-12)


def test_a_bridge_that_is_none_of_the_families():
    parts = (Part("wedge", "ends", "height", (0.0, 0.5)), Part("block", "strings", "along"))
    adjusters = adjusters_for(parts, Y, span_mm=50.0)
    assert adjusters.names[:3] == ("wedge bass", "wedge treble", "block 0")
    assert adjusters.upper[:2].tolist() == [0.5, 0.5]


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: adjusters_for("rocking", Y, span_mm=74.0), "family is 'rocking'"),
        (lambda: post_moves([1.0], lateral_mm=[0.0], span_mm=0.0), "span_mm is 0"),
        (lambda: post_moves([1.0], lateral_mm=[0.0], span_mm=74.0, weights=[-1.0]), "weights is -1"),
        (lambda: solve_moves(adjusters_for("tied", Y, span_mm=74.0)), "height_mm"),
        (lambda: crest_changes_mm(adjusters_for("tied", Y, span_mm=74.0), [1.0, 2.0]), "one move for each"),
        (lambda: adjusters_for((Part("x", "corner", "height"),), Y, span_mm=74.0), "form is 'corner'"),
    ],
)
def test_bad_arguments(call, message):
    with pytest.raises(GeometryError, match=message):
        call()
