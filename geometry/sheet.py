"""What one worksheet of a two-post bridge with a stop tailpiece holds, as arrays: readings, record and targets.

Any array may have leading axes for many worksheets. *per string* fields end in the axis of the strings, bass to treble;
*per instrument* fields do not. NaN is a reading that was not taken, or a limit that is not set.
"""

from dataclasses import dataclass, fields
from typing import ClassVar

import numpy as np

from geometry.errors import GeometryError, as_numbers
from geometry.neck import Neck

__all__ = ["Readings", "Record", "Standards", "Targets"]


class _Arrays:
    """Turns every field into an array of floats when it is made; one number stands for all strings."""

    PER_STRING: ClassVar = frozenset()

    def __post_init__(self):
        for name in (one.name for one in fields(self) if one.name != "neck"):
            value = as_numbers(name, getattr(self, name))
            object.__setattr__(self, name, value[None] if name in self.PER_STRING and not value.ndim else value)


@dataclass(frozen=True)
class Readings(_Arrays):
    """Readings of the bench.

    Attributes
    ----------
    relief_mm, stud_bass_mm, stud_treble_mm : numpy.ndarray
        Per instrument: relief, stud heights above the top [mm].
    nut_gap_mm, height_12_mm, crest_mm : numpy.ndarray
        Per string: gap at fret 1 held at 3, height over fret 12, crest above the top [mm].
    octave_cents : numpy.ndarray
        Per string: fretted octave against the open string's, sharp positive [cents].
    facing : numpy.ndarray
        Per string: `geometry.saddle.FLAT_TO_REAR` or `FLAT_TO_FRONT`.
    back_left_mm, forward_left_mm : numpy.ndarray
        Per string: saddle's travel left [mm].

    Examples
    --------
    >>> Readings(relief_mm=0.2, height_12_mm=[1.9, 1.5]).height_12_mm
    array([1.9, 1.5])
    """

    PER_STRING: ClassVar = frozenset({
        "nut_gap_mm", "height_12_mm", "crest_mm", "octave_cents", "facing", "back_left_mm", "forward_left_mm",
    })  # fmt: skip

    relief_mm: np.ndarray = np.nan
    nut_gap_mm: np.ndarray = np.nan
    height_12_mm: np.ndarray = np.nan
    crest_mm: np.ndarray = np.nan
    stud_bass_mm: np.ndarray = np.nan
    stud_treble_mm: np.ndarray = np.nan
    octave_cents: np.ndarray = np.nan
    facing: np.ndarray = np.nan
    back_left_mm: np.ndarray = np.nan
    forward_left_mm: np.ndarray = np.nan


@dataclass(frozen=True)
class Standards(_Arrays):
    """Standard uncertainties of readings and of measured values of the record; 0 where they are taken as exact.

    Attributes
    ----------
    relief_mm, stud_mm, neck_tilt_rad : numpy.ndarray
        Per instrument [mm, mm, rad].
    nut_gap_mm, height_12_mm, crest_mm, run_mm, edge_behind_mm, edge_below_mm : numpy.ndarray
        Per string [mm].
    octave_cents, tension_n : numpy.ndarray
        Per string [cents, N].

    Examples
    --------
    >>> float(Standards(relief_mm=0.014).relief_mm), Standards().crest_mm.tolist()
    (0.014, [0.0])
    """

    PER_STRING: ClassVar = frozenset({
        "nut_gap_mm", "height_12_mm", "crest_mm", "run_mm", "edge_behind_mm", "edge_below_mm", "octave_cents",
        "tension_n",
    })  # fmt: skip

    relief_mm: np.ndarray = 0.0
    nut_gap_mm: np.ndarray = 0.0
    height_12_mm: np.ndarray = 0.0
    crest_mm: np.ndarray = 0.0
    stud_mm: np.ndarray = 0.0
    run_mm: np.ndarray = 0.0
    edge_behind_mm: np.ndarray = 0.0
    edge_below_mm: np.ndarray = 0.0
    neck_tilt_rad: np.ndarray = 0.0
    octave_cents: np.ndarray = 0.0
    tension_n: np.ndarray = 0.0


@dataclass(frozen=True)
class Record(_Arrays):
    """The instrument as its record has it.

    Attributes
    ----------
    neck : geometry.neck.Neck
        The neck.
    post_span_mm, stud_span_mm, neck_tilt_rad, groove_half_angle_rad, friction : numpy.ndarray
        Per instrument.
    run_mm, edge_behind_mm, edge_below_mm, above_stud_mm, bar_radius_mm : numpy.ndarray
        Per string: crest to exit, rear edge behind and below the crest, exit above the stud's reading, radius of a wrap
        (0 for none) [mm].
    mass_kg_per_m, frequency_hz : numpy.ndarray
        Per string: the strings and their tuning.
    turn_shift_mm, pluck_n, pluck_share : numpy.ndarray
        Per instrument: what turning a saddle round does; a strong pluck, and where along the string from the saddle.

    Examples
    --------
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> float(Record(neck=neck, post_span_mm=74.0).post_span_mm)
    74.0
    """

    PER_STRING: ClassVar = frozenset({
        "run_mm", "edge_behind_mm", "edge_below_mm", "above_stud_mm", "bar_radius_mm", "mass_kg_per_m",
        "frequency_hz",
    })  # fmt: skip

    neck: Neck
    post_span_mm: np.ndarray = np.nan
    stud_span_mm: np.ndarray = np.nan
    neck_tilt_rad: np.ndarray = np.nan
    run_mm: np.ndarray = np.nan
    edge_behind_mm: np.ndarray = np.nan
    edge_below_mm: np.ndarray = np.nan
    above_stud_mm: np.ndarray = 0.0
    bar_radius_mm: np.ndarray = 0.0
    mass_kg_per_m: np.ndarray = np.nan
    frequency_hz: np.ndarray = np.nan
    groove_half_angle_rad: np.ndarray = np.nan
    friction: np.ndarray = np.nan
    turn_shift_mm: np.ndarray = 2.0
    pluck_n: np.ndarray = 4.0
    pluck_share: np.ndarray = 0.15

    def __post_init__(self):
        if not isinstance(self.neck, Neck):
            raise GeometryError("neck", self.neck, "a geometry.neck.Neck")
        super().__post_init__()


@dataclass(frozen=True)
class Targets(_Arrays):
    """Limits of the readings; NaN for none.

    Attributes
    ----------
    relief_low_mm, relief_high_mm, clearance_low_mm, difference_most_mm : numpy.ndarray
        Per instrument [mm].
    break_low_rad, break_high_rad, octave_low_cents, octave_high_cents : numpy.ndarray
        Per instrument [rad, cents].
    nut_gap_low_mm, nut_gap_high_mm, height_low_mm, height_high_mm : numpy.ndarray
        Per string [mm].

    Examples
    --------
    >>> Targets(height_low_mm=[1.6, 1.2], height_high_mm=[2.1, 1.7]).height_high_mm
    array([2.1, 1.7])
    """

    PER_STRING: ClassVar = frozenset({"nut_gap_low_mm", "nut_gap_high_mm", "height_low_mm", "height_high_mm"})

    relief_low_mm: np.ndarray = np.nan
    relief_high_mm: np.ndarray = np.nan
    nut_gap_low_mm: np.ndarray = np.nan
    nut_gap_high_mm: np.ndarray = np.nan
    height_low_mm: np.ndarray = np.nan
    height_high_mm: np.ndarray = np.nan
    break_low_rad: np.ndarray = np.nan
    break_high_rad: np.ndarray = np.nan
    clearance_low_mm: np.ndarray = np.nan
    difference_most_mm: np.ndarray = np.nan
    octave_low_cents: np.ndarray = np.nan
    octave_high_cents: np.ndarray = np.nan
