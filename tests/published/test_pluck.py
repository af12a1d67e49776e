"""The pluck's triangle and its series against printed forms."""

import numpy as np
import pytest

from geometry.playing import pluck_height_mm, pluck_reach_mm


@pytest.mark.parametrize(
    ("force", "length", "share", "tension", "height"),
    [(2.0, 650, 0.2, 70, 2.9714), (2.0, 650, 0.5, 70, 4.6429), (1.5, 648, 0.15, 75, 1.6524)],
)
def test_height_of_a_pluck(force, length, share, tension, height):
    """Computed: F·L·p·(1 − p)/T; University Physics' car in mud is the same formula, see `test_support_force`."""
    found = pluck_height_mm(force, from_saddle_mm=share * length, length_mm=length, tension_n=tension)
    assert found == pytest.approx(height, abs=5.1e-5)


def modes(count, share):
    """Amplitudes ``2·h·sin(n·π·p)/(n²·π²·p·(1 − p))`` for h = 1: M. Gallant, teaching page on physics; read."""
    number = np.arange(1, count + 1)
    return number, 2 * np.sin(number * np.pi * share) / (number**2 * np.pi**2 * share * (1 - share))


def test_series_of_the_plucked_string():
    """The printed modes sum to the triangle, and half a period later to the triangle turned round."""
    length, share = 650.0, 0.2
    place = np.linspace(0, length, 27)
    known = {"pluck_n": 2.0, "pluck_from_saddle_mm": share * length, "length_mm": length, "tension_n": 70.0}
    triangle = pluck_reach_mm(place, **known, reflected=False)
    number, amplitude = modes(20_000, share)
    height = pluck_height_mm(2.0, from_saddle_mm=share * length, length_mm=length, tension_n=70.0)
    shapes = np.sin(np.pi * number * place[:, None] / length) * amplitude * height
    assert shapes.sum(axis=-1) == pytest.approx(triangle, abs=3e-4)
    later = (shapes * np.cos(np.pi * number)).sum(axis=-1)
    assert -later == pytest.approx(triangle[::-1], abs=3e-4)
    assert pluck_reach_mm(place, **known) == pytest.approx(np.maximum(triangle, triangle[::-1]), rel=1e-12)


def test_middle_of_the_string():
    """Computed: the first mode of a pluck in the middle is 8/π² of its height."""
    assert modes(1, 0.5)[1][0] == pytest.approx(8 / np.pi**2, rel=1e-12)


def test_no_energy_at_multiples():
    """T. Smyth, lecture notes (University of California San Diego): no energy at multiples of 1/p; read."""
    number, amplitude = modes(40, 0.2)
    assert np.abs(amplitude[number % 5 == 0]).max() < 1e-15
    assert np.abs(amplitude[number % 5 != 0]).min() > 1e-4
