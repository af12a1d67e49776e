"""A pluck's reach against simulated travelling waves, a finite-difference string and its series."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from geometry.errors import GeometryError
from geometry.playing import pluck_height_mm, pluck_reach_mm

FORCE, TENSION = 1.5, 70.0


def known(share, length):
    return {"pluck_n": FORCE, "pluck_from_saddle_mm": share * length, "length_mm": length, "tension_n": TENSION}


def shape(place, share, length):
    """The string drawn aside, continued as an odd function of period 2·ℓ, as d'Alembert's solution asks."""
    wrapped = np.mod(place, 2 * length)
    folded = np.where(wrapped <= length, wrapped, 2 * length - wrapped)
    height = FORCE * share * (1 - share) * length / TENSION
    triangle = height * np.minimum(folded / share, (length - folded) / (1 - share)) / length
    return np.where(wrapped <= length, triangle, -triangle)


def travelling(place, moment, share, length):
    """Two waves of half the height running apart: exact for an ideal string; `moment` in lengths travelled."""
    return 0.5 * (shape(place - moment, share, length) + shape(place + moment, share, length))


shares = st.floats(0.02, 0.98)


@given(shares, st.floats(100, 900), st.floats(0, 1), st.floats(0, 4))
def test_the_wave_never_leaves_the_bound(share, length, along, moment):
    place = along * length
    reach = pluck_reach_mm(place, **known(share, length))
    assert abs(travelling(place, moment * length, share, length)) <= reach + 1e-9


@given(shares, st.floats(100, 900))
def test_the_bound_is_reached(share, length):
    """At the start, and half a period later turned round: nowhere can it be drawn tighter."""
    place = np.linspace(0, length, 101)
    found = np.maximum(*(np.abs(travelling(place, one, share, length)) for one in (0.0, length)))
    assert found == pytest.approx(pluck_reach_mm(place, **known(share, length)), abs=1e-9)


@pytest.mark.parametrize("share", [0.1, 0.25, 0.5])
def test_second_opinion_of_an_integrator(share):
    """scipy integrates 60 masses on a massless string for two periods: they stay within the bound, but for the ripple,
    below 8 % of the pluck, that masses make of a corner."""
    count, length = 61, 650.0
    place = np.linspace(0, length, count)
    start = shape(place, share, length)

    def move(_, state):
        aside, speed = np.split(state, 2)
        bent = np.zeros(count)
        bent[1:-1] = (aside[2:] - 2 * aside[1:-1] + aside[:-2]) / (place[1] ** 2)
        return np.concatenate([speed, bent])

    found = solve_ivp(move, (0, 4 * length), np.concatenate([start, 0 * start]), max_step=place[1] / 2, rtol=1e-6)
    assert found.success
    reach = pluck_reach_mm(place, **known(share, length))
    assert (np.abs(found.y[:count]).max(axis=1) <= reach + 0.08 * start.max()).all()


@given(shares, st.floats(100, 900), st.floats(0, 1), st.floats(0, 2))
def test_the_series_stays_within_the_bound(share, length, along, moment):
    """Second opinion: the Fourier series of the moving string, 2000 modes, but for what the missing ones add."""
    number = np.arange(1, 2001)
    height = pluck_height_mm(FORCE, from_saddle_mm=share * length, length_mm=length, tension_n=TENSION)
    mode = 2 * height * np.sin(number * np.pi * share) / (number**2 * np.pi**2 * share * (1 - share))
    aside = (mode * np.sin(number * np.pi * along) * np.cos(number * np.pi * moment)).sum()
    missing = 2 * height / (np.pi**2 * share * (1 - share) * 2000)
    assert abs(aside) <= pluck_reach_mm(along * length, **known(share, length)) + missing
    assert aside == pytest.approx(travelling(along * length, moment * length, share, length), abs=missing)


@given(shares, st.floats(0, 1))
def test_the_same_from_either_end(share, along):
    one = pluck_reach_mm(along * 650.0, **known(share, 650.0))
    other = pluck_reach_mm((1 - along) * 650.0, **known(1 - share, 650.0))
    assert one == pytest.approx(other, abs=1e-12)


def test_shapes_and_missing_values():
    place = np.array([[100.0, np.nan], [0.0, 650.0]])
    before = place.copy()
    found = pluck_reach_mm(place, **known(0.2, 650.0))
    assert np.isnan(found).tolist() == [[False, True], [False, False]]
    assert found[1].tolist() == [0.0, 0.0]
    assert np.array_equal(place, before, equal_nan=True)


@pytest.mark.parametrize(
    ("place", "share", "words"),
    [(700.0, 0.2, "^from_saddle_mm is .*from 0 to length_mm"), (9.0, 1.1, "^pluck_from_saddle_mm is .*from 0 to")],
)
def test_places_off_the_string_are_refused(place, share, words):
    with pytest.raises(GeometryError, match=words):
        pluck_reach_mm(place, **known(share, 650.0))
