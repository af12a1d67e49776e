"""Arch of the crests: what posts can take up, and which slots to cut."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from geometry.arch import fit_arch
from geometry.bridge import lever
from tests.geometry_cast import between, neck, per_string

Y = neck().lateral_bridge_mm


@given(per_string(13, 16), between(-1, 1), between(-1, 1))
def test_posts_take_up_any_straight_line(crest, bass, treble):
    wanted = crest + lever(Y, span_mm=74.0) @ [bass, treble]
    fit = fit_arch(crest, wanted, lateral_mm=Y, span_mm=74.0)
    np.testing.assert_allclose([fit.bass_mm, fit.treble_mm], [bass, treble], atol=1e-9)
    np.testing.assert_allclose(fit.error_mm, 0.0, atol=1e-9)
    np.testing.assert_allclose(fit.cut_mm, 0.0, atol=1e-8)


@given(per_string(13, 16), per_string(13, 16))
def test_cuts_and_their_post_moves_bring_every_crest_right(crest, wanted):
    fit = fit_arch(crest, wanted, lateral_mm=Y, span_mm=74.0)
    assert (fit.cut_mm >= 0).all()
    moved = crest - fit.cut_mm + lever(Y, span_mm=74.0) @ [fit.cut_bass_mm, fit.cut_treble_mm]
    np.testing.assert_allclose(moved, wanted, atol=1e-8)


@given(per_string(13, 16), per_string(13, 16), st.sets(st.integers(0, 5), max_size=4))
def test_no_other_cuts_are_less_in_sum(crest, wanted, missing):
    """scipy's linear programme: least sum of cuts that are 0 or more, both posts free."""
    crest[list(missing)] = np.nan
    fit = fit_arch(crest, wanted, lateral_mm=Y, span_mm=74.0)
    there = ~np.isnan(crest)
    count = there.sum()
    shares = lever(Y, span_mm=74.0)[there]
    # crest − cut + shares·posts = wanted
    equal = np.hstack([-np.eye(count), shares])
    best = linprog(np.r_[np.ones(count), 0, 0], A_eq=equal, b_eq=(wanted - crest)[there],
                   bounds=[(0, None)] * count + [(None, None)] * 2)  # fmt: skip
    assert np.nansum(fit.cut_mm) == pytest.approx(best.fun, abs=1e-6)
    assert np.isnan(fit.cut_mm).tolist() == (~there).tolist()


def test_errors_add_up_to_nothing():
    fit = fit_arch([14.0, 15.2, 15.0, 15.3, 14.9, 14.0], np.full(6, 15.0), lateral_mm=Y, span_mm=74.0)
    assert fit.error_mm.sum() == pytest.approx(0.0, abs=1e-12)
    assert (fit.error_mm * Y).sum() == pytest.approx(0.0, abs=1e-10)


def test_nothing_read_is_nothing_said():
    fit = fit_arch(np.full(6, np.nan), np.full(6, 15.0), lateral_mm=Y, span_mm=74.0)
    for one in (fit.bass_mm, fit.error_mm, fit.cut_mm, fit.cut_bass_mm):
        assert np.isnan(one).all()


def test_many_at_once_are_as_one_by_one():
    random = np.random.default_rng(3)
    crest, wanted = random.uniform(13, 16, (8, 6)), random.uniform(13, 16, (8, 6))
    crest[4, 2] = np.nan
    many = fit_arch(crest, wanted, lateral_mm=Y, span_mm=np.full(8, 74.0))
    for i in range(8):
        one = fit_arch(crest[i], wanted[i], lateral_mm=Y, span_mm=74.0)
        for name in ("bass_mm", "error_mm", "cut_mm", "cut_treble_mm"):
            np.testing.assert_allclose(getattr(many, name)[i], getattr(one, name), atol=1e-10)
