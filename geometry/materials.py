"""Density and Young's modulus of what strings are made of: typical values, to be replaced by better ones.

References differ by several per cent for one material (music wire alone is given as 190 to 207 GPa), and a polymer
string's own figures differ far more: treat every value as a starting point.
"""

from dataclasses import dataclass
from types import MappingProxyType

__all__ = ["MATERIALS", "Material"]


@dataclass(frozen=True)
class Material:
    """A string material.

    Attributes
    ----------
    density_kg_per_m3 : float
        Density [kg/m³].
    young_pa : float
        Young's modulus in tension [Pa].
    """

    density_kg_per_m3: float
    young_pa: float


MATERIALS = MappingProxyType({
    # Density of carbon steels 7.85 (engineering handbooks' common figure); modulus: University Physics, table 12.1.
    "steel": Material(7850.0, 200e9),
    # Commercially pure nickel 8.88; modulus: University Physics, table 12.1.
    "nickel": Material(8880.0, 210e9),
    # Bronzes: 8.2 to 8.8 and 96 to 120 GPa in general engineering tables; phosphor bronze from memory.
    "bronze": Material(8700.0, 105e9),
    "phosphor_bronze": Material(8800.0, 110e9),
    # Brass, copper: University Physics, tables 12.1 and 14.1.
    "brass": Material(8440.0, 90e9),
    "copper": Material(8920.0, 110e9),
    # Silver-plated copper wire, as wound on nylon basses: taken as copper.
    "silvered_copper": Material(8920.0, 110e9),
    # Nylon strings in use: 3.9 to 8.3 GPa effective (Anderson & Beausoleil 2024); density of nylon 6-6 about 1.13,
    # the same paper's trebles imply 0.94 to 1.02 on the nominal diameter.
    "nylon": Material(1050.0, 5.5e9),
    # Fluorocarbon strings: the same paper implies 1.59 to 1.62 and 5.7 to 13.0 GPa.
    "fluorocarbon": Material(1600.0, 8.5e9),
})  # fmt: skip
