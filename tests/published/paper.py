"""Tables of M. B. Anderson and R. G. Beausoleil, "Classical guitar intonation and compensation: The well-tempered
guitar", J. Acoust. Soc. Am. 156 (2024) 683, read in the text and tables of the authors' own preprint.

`string_sets.csv`: six sets of strings, highest string first as printed, on a 650 mm scale: radius, mass and tension,
the sensitivity R measured by the authors and what follows from it, and set-backs for a nut 1 mm and a saddle 5 mm over
the frets, pressed right at the fret. Trebles are nylon in A, B, D and E, fluorocarbon in C and F. The set-backs come
from two revisions of the tables: those of B and C from the closed form, the others from the exact one. The second
string of D has none here: its R was revised between the two.
"""

import csv
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from geometry.fretting import Elastic, Placement, elastic_from_sensitivity

FROM_CLOSED_FORM = {"B", "C"}
NOTES = ("E4", "B3", "G3", "D3", "A2", "E2")


@dataclass(frozen=True)
class StringSet:
    note: tuple
    radius_mm: np.ndarray
    mass_g_per_m: np.ndarray
    tension_n: np.ndarray
    sensitivity: np.ndarray
    stretch_ratio: np.ndarray
    epsilon: np.ndarray
    young_gpa: np.ndarray
    saddle_mm: np.ndarray
    nut_mm: np.ndarray
    rms_cents: np.ndarray

    def elastic(self):
        return elastic_from_sensitivity(self.sensitivity, radius_mm=self.radius_mm)


def _read():
    with Path(__file__).with_name("string_sets.csv").open() as file:
        rows = list(csv.DictReader(file))
    for name in dict.fromkeys(row["set"] for row in rows):
        own = [row for row in rows if row["set"] == name]
        columns = {
            key: np.array([float(row[key] or "nan") for row in own]) for key in own[0] if key not in ("set", "note")
        }
        yield name, StringSet(note=tuple(row["note"] for row in own), **columns)


SETS = dict(_read())

# The paper's prototype: a string of radius 0.43 mm with R = 25 on a 650 mm scale, nut 1 mm, saddle 5 mm over the frets.
PROTOTYPE = Elastic(stretch_ratio=51.0, bend_length_mm=0.5 * np.sqrt(51.0) * 0.43)
GUITAR = Placement(scale_mm=650.0, nut_mm=1.0, crest_mm=5.0)
