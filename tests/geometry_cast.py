"""Invented necks, bridges and worksheets for the numeric tests."""

import numpy as np
from hypothesis import strategies as st

from geometry.frets import string_spacing_mm
from geometry.neck import Neck
from geometry.pitch import frequency_hz, tuning_midi
from geometry.sheet import Readings, Record, Standards, Targets

SIX_MASS = np.array([6.8e-3, 4.2e-3, 2.3e-3, 1.14e-3, 0.67e-3, 0.398e-3])
SIX_ARCH = np.array([0.0, 0.9, 1.3, 1.3, 0.9, 0.0])


def between(low, high):
    """A finite number of a range."""
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


def per_string(low, high, count=6):
    return st.lists(between(low, high), min_size=count, max_size=count).map(np.array)


def neck(**changes):
    """A six-string neck: 628 mm, 305 mm radius, 22 frets."""
    values = {
        "scale_mm": np.full(6, 628.0), "lateral_nut_mm": string_spacing_mm(6, spread_mm=35.5),
        "lateral_bridge_mm": string_spacing_mm(6, spread_mm=51.0), "radius_nut_mm": 305.0, "radius_end_mm": 305.0,
        "end_fret": 22,
    }  # fmt: skip
    return Neck(**(values | changes))


def record(**changes):
    """A two-post bridge with a stop tailpiece on that neck."""
    values = {
        "neck": neck(), "post_span_mm": 74.0, "stud_span_mm": 82.0, "neck_tilt_rad": 0.052, "run_mm": np.full(6, 40.0),
        "edge_behind_mm": np.full(6, 6.0), "edge_below_mm": np.full(6, 2.5), "above_stud_mm": 5.0,
        "mass_kg_per_m": SIX_MASS, "frequency_hz": frequency_hz(tuning_midi("E2 A2 D3 G3 B3 E4")),
        "groove_half_angle_rad": 0.7, "friction": 0.2,
    }  # fmt: skip
    return Record(**(values | changes))


def readings(**changes):
    """Nothing far out of range."""
    values = {
        "relief_mm": 0.2, "nut_gap_mm": np.full(6, 0.15), "height_12_mm": np.linspace(1.9, 1.45, 6),
        "crest_mm": 15.0 + SIX_ARCH, "stud_bass_mm": 6.0, "stud_treble_mm": 5.5,
        "octave_cents": np.array([2.0, -1.0, 0.5, 3.0, -2.0, 1.0]), "facing": np.array([1.0, 1, 1, -1, -1, -1]),
        "back_left_mm": np.full(6, 3.0), "forward_left_mm": np.full(6, 5.0),
    }  # fmt: skip
    return Readings(**(values | changes))


def targets(**changes):
    values = {
        "relief_low_mm": 0.1, "relief_high_mm": 0.3, "nut_gap_low_mm": 0.05, "nut_gap_high_mm": 0.25,
        "height_low_mm": np.linspace(1.6, 1.2, 6), "height_high_mm": np.linspace(2.1, 1.7, 6),
        "break_low_rad": np.radians(6.0), "break_high_rad": np.radians(17.0), "clearance_low_mm": 0.4,
        "difference_most_mm": 1.0, "octave_low_cents": -1.5, "octave_high_cents": 1.5,
    }  # fmt: skip
    return Targets(**(values | changes))


def standards(**changes):
    values = {
        "relief_mm": 0.0144, "nut_gap_mm": 0.0144, "height_12_mm": 0.036, "crest_mm": 0.05, "stud_mm": 0.05,
        "run_mm": 0.1, "edge_behind_mm": 0.1, "edge_below_mm": 0.05, "neck_tilt_rad": 0.003, "octave_cents": 0.3,
        "tension_n": 1.0,
    }  # fmt: skip
    return Standards(**(values | changes))


def many_readings(count, seed=0):
    """`count` sheets of random readings, some strings missing."""
    random = np.random.default_rng(seed)

    def some(low, high):
        table = random.uniform(low, high, (count, 6))
        table[random.random((count, 6)) < 0.05] = np.nan
        return table

    return Readings(
        relief_mm=random.uniform(0.0, 0.5, count), nut_gap_mm=some(0.02, 0.4), height_12_mm=some(1.0, 2.6),
        crest_mm=some(14.0, 17.0), stud_bass_mm=random.uniform(1.0, 11.0, count),
        stud_treble_mm=random.uniform(1.0, 11.0, count), octave_cents=some(-8.0, 8.0),
        facing=np.array([1.0, 1, 1, -1, -1, -1]), back_left_mm=some(0.0, 6.0), forward_left_mm=some(0.0, 6.0),
    )  # fmt: skip
