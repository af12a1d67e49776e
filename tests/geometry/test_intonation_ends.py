"""A bridge whose two ends carry all crests: bounded weighted least squares, scipy the second opinion."""

import numpy as np
import pytest
from hypothesis import given
from scipy.optimize import lsq_linear

from geometry.bridge import lever
from geometry.intonation import end_moves
from tests.geometry_cast import between, neck, per_string

Y = neck().lateral_bridge_mm


@given(per_string(-4, 4), per_string(0.1, 3), between(-2, 0), between(0, 3))
def test_scipy_agrees(wanted, weights, low, high):
    moves = end_moves(wanted, lateral_mm=Y, span_mm=80.0, lower_mm=low, upper_mm=high, weights=weights)
    root = np.sqrt(weights)
    if high - low < 1e-6:
        return
    best = lsq_linear(root[:, None] * lever(Y, span_mm=80.0), root * wanted, (low, high), method="bvls", tol=1e-14)
    np.testing.assert_allclose([moves.bass_mm, moves.treble_mm], best.x, atol=1e-8)


@given(between(0, 4), between(0, 4))
def test_what_two_screws_can_do_they_do(bass, treble):
    moves = end_moves(lever(Y, span_mm=80.0) @ [bass, treble], lateral_mm=Y, span_mm=80.0, lower_mm=0.0)
    np.testing.assert_allclose([moves.bass_mm, moves.treble_mm], [bass, treble], atol=1e-9)
    np.testing.assert_allclose(moves.remains_mm, 0.0, atol=1e-9)


def test_screws_that_only_push_back_leave_what_wants_forward():
    moves = end_moves(np.full(6, -1.0), lateral_mm=Y, span_mm=80.0, lower_mm=0.0)
    assert (float(moves.bass_mm), float(moves.treble_mm)) == (0.0, 0.0)
    assert (int(moves.bass_at_bound), int(moves.treble_at_bound)) == (-1, -1)
    np.testing.assert_allclose(moves.remains_mm, -1.0)


def test_mirrored_bridges_move_mirrored():
    wanted = np.array([2.0, 1.0, 1.5, 0.5, 0.2, 0.0])
    one = end_moves(wanted, lateral_mm=Y, span_mm=80.0, lower_mm=0.0)
    other = end_moves(wanted[::-1], lateral_mm=Y, span_mm=80.0, lower_mm=0.0)
    assert other.bass_mm == pytest.approx(one.treble_mm, abs=1e-12)


def test_missing_strings_are_left_out():
    wanted = np.array([1.0, np.nan, 1.0, 1.0, np.nan, 1.0])
    moves = end_moves(wanted, lateral_mm=Y, span_mm=80.0)
    assert moves.bass_mm == pytest.approx(1.0)
    assert np.isnan(moves.remains_mm).tolist() == np.isnan(wanted).tolist()
