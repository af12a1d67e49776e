"""Mass of wound strings: no published core-and-wrap example was found, so bounds, a known factor and a regression."""

import numpy as np
import pytest

from geometry.strings import plain_mass_kg_per_m, wound_mass_kg_per_m
from tests.published.paper import SETS

# Computed from the helix, g/m: (core mm, wrap mm, core and wrap densities), mass.
REGRESSION = [
    ((0.36, 0.33, 7850, 8900), 5.856905), ((0.46, 0.45, 7850, 8800), 10.305597), ((1.0, 0.5, 8000, 8000), 21.170692),
]  # fmt: skip


@pytest.mark.parametrize(("string", "mass"), REGRESSION)
def test_mass_by_the_helix(string, mass):
    core, wrap, core_density, wrap_density = string
    found = wound_mass_kg_per_m(core, wrap, core_density_kg_per_m3=core_density, wrap_density_kg_per_m3=wrap_density)
    assert 1e3 * found == pytest.approx(mass, abs=5e-7)


def test_packing_factor_of_piano_scaling():
    """Piano scaling counts a copper wrap as 0.89 of steel of the same outline (from memory): π/4·8.96/7.85 = 0.896. The
    helix's lean adds a little to it."""
    core, wrap = 1.0, 0.5
    wound = wound_mass_kg_per_m(core, wrap, core_density_kg_per_m3=7850, wrap_density_kg_per_m3=8960)
    heart, whole = (plain_mass_kg_per_m(one, density_kg_per_m3=7850) for one in (core, core + 2 * wrap))
    assert (wound - heart) / (whole - heart) == pytest.approx(0.89, abs=0.02)


@pytest.mark.parametrize("name", SETS)
def test_published_basses_lie_between_core_and_solid(name):
    """Anderson & Beausoleil (2024), radius and mass of 18 wound basses, read: silvered copper wire on a nylon core.
    Their mean density lies between that of nylon and the closest packing of copper."""
    strings = SETS[name]
    basses = slice(3, 6)
    density = strings.mass_g_per_m[basses] / (np.pi * strings.radius_mm[basses] ** 2)
    assert (density > 1.14).all()
    assert (density < np.pi / 4 * 8.92).all()
    assert density == pytest.approx(np.full(3, 5.2), abs=1.2)
