"""Stiff strings: the second-order factor against the exact eigenvalue, clamps as springs, partials."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_bvp
from scipy.optimize import brentq

from geometry.errors import GeometryError
from geometry.stiffness import (
    clamp_from_spring,
    frequency_factor,
    inharmonicity,
    partial_hz,
    partial_stretch_cents,
    stiffness_epsilon,
)

CENTS = 1200 / np.log(2)


def exact_factor(epsilon, clamps, partial=1):
    """Eigenvalue of ``ε²·y⁗ − y″ = w²·y`` on 0…1 with ends that turn against springs, over that of a limp string.

    scipy finds where the four end conditions of the general solution can be met at once.
    """

    def misfit(omega):
        root = np.sqrt(1 + 4 * epsilon**2 * omega**2)
        wave, decay = np.sqrt((root - 1) / 2) / epsilon, np.sqrt((root + 1) / 2) / epsilon

        def row(place, order):
            phase = wave * place + order * np.pi / 2
            return np.array([
                wave**order * np.sin(phase), wave**order * np.cos(phase), (-decay) ** order * np.exp(-decay * place),
                decay**order * np.exp(-decay * (1 - place)),
            ])  # fmt: skip

        ends = [
            (1 - clamp) * epsilon**2 * inward * row(place, 2) - clamp * epsilon * row(place, 1)
            for place, clamp, inward in ((0, clamps[0], 1), (1, clamps[1], -1))
        ]
        table = np.array([row(0, 0), row(1, 0), *ends])
        return np.linalg.det(table / np.abs(table).max(axis=0))

    start = np.pi * partial * frequency_factor(epsilon, clamped_ends=sum(clamps), partial=partial)
    return brentq(misfit, start * 0.997, start * 1.003, xtol=1e-13) / (np.pi * partial)


@pytest.mark.parametrize("clamps", [(0, 0), (1, 0), (0.5, 0), (1, 0.5), (0.3, 0.3), (1, 1)])
@pytest.mark.parametrize("epsilon", [0.001, 0.003, 0.006])
def test_factor_against_the_exact_eigenvalue(epsilon, clamps):
    """What is left out is of third order: below 30·ε³ for any ends, and below 0.01 cents."""
    left = abs(frequency_factor(epsilon, clamped_ends=sum(clamps)) / exact_factor(epsilon, clamps) - 1)
    assert left <= 30 * epsilon**3
    assert CENTS * left <= 0.01


def test_eigenvalue_by_a_boundary_value_solver():
    """Another second opinion: scipy's collocation on the stiff string's equation, one end clamped."""
    epsilon = 0.02

    def slopes(place, state, parameters):
        return np.vstack([state[1], state[2], state[3], (state[2] + parameters[0] ** 2 * state[0]) / epsilon**2])

    def ends(left, right, parameters):
        return np.array([left[0], left[1], right[0], right[2], left[2] - 1.0 / epsilon])

    place = np.concatenate([np.linspace(0, 0.2, 200), np.linspace(0.2, 1, 100)[1:]])
    wave = np.pi * place
    guess = np.array([np.sin(wave), np.pi * np.cos(wave), -(np.pi**2) * np.sin(wave), 0 * wave])
    found = solve_bvp(slopes, ends, place, guess, p=[3.2], tol=1e-8, max_nodes=100_000)
    assert found.success
    assert exact_factor(epsilon, (1, 0)) == pytest.approx(found.p[0] / np.pi, rel=1e-7)


@given(st.floats(0.0, 1.0, exclude_max=True), st.floats(20, 120), st.floats(1e-5, 5e-4))
def test_a_spring_gives_its_clamp(clamp, tension, bending):
    """Inverse by hand: ``k = c/(1 − c)·sqrt(T·E·I)``."""
    spring = clamp / (1 - clamp) * np.sqrt(tension * bending)
    assert clamp_from_spring(spring, tension_n=tension, bending_n_m2=bending) == pytest.approx(clamp, abs=1e-12)


@given(st.floats(1e-5, 5e-4), st.floats(20, 120), st.floats(200, 900))
def test_inharmonicity_is_pi_squared_epsilon_squared(bending, tension, length):
    epsilon = stiffness_epsilon(bending, tension_n=tension, length_mm=length)
    assert inharmonicity(epsilon) == pytest.approx(np.pi**2 * bending / (tension * (length * 1e-3) ** 2), rel=1e-12)


@given(st.integers(1, 30), st.floats(0, 1e-3), st.floats(30, 900))
def test_partials_and_their_stretch(partial, stiff, fundamental):
    first, other = partial_hz([1, partial], fundamental_hz=fundamental, inharmonicity=stiff)
    stretch = 1200 * np.log2(other / (partial * first))
    assert partial_stretch_cents(partial, inharmonicity=stiff) == pytest.approx(stretch, abs=1e-9)


@given(st.floats(0, 0.01), st.floats(0, 2), st.floats(0, 2))
def test_more_clamp_is_sharper(epsilon, one, other):
    low, high = sorted((one, other))
    assert frequency_factor(epsilon, clamped_ends=low) <= frequency_factor(epsilon, clamped_ends=high)


def test_shapes_and_missing_values():
    table = np.array([[0.001, np.nan], [0.003, 0.0]])
    before = table.copy()
    found = frequency_factor(table, clamped_ends=1.0)
    assert found.shape == (2, 2)
    assert np.isnan(found).tolist() == [[False, True], [False, False]]
    assert found[1, 1] == 1.0
    assert (table == before)[~np.isnan(before)].all()
    assert np.isnan(stiffness_epsilon(np.nan, tension_n=70, length_mm=650))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: frequency_factor(0.003, clamped_ends=2.5), "clamped_ends is 2.5; it must be from 0 to 2."),
        (lambda: frequency_factor(-0.1), "epsilon is -0.1; it must be 0 or more."),
        (lambda: stiffness_epsilon(1, tension_n=0, length_mm=650), "tension_n is 0; it must be above 0 and finite."),
        (lambda: partial_hz(0, fundamental_hz=100, inharmonicity=0), "partial is 0; it must be above 0 and finite."),
        (lambda: clamp_from_spring(-1, tension_n=70, bending_n_m2=1e-5), "spring_n_m is -1; it must be 0 or more."),
    ],
)
def test_bad_arguments_are_named(call, words):
    with pytest.raises(GeometryError) as found:
        call()
    assert str(found.value) == words
