"""Where the strings run, and the neck under them."""

from dataclasses import dataclass

import numpy as np

from geometry.frets import string_scale_mm, string_spacing_mm
from geometry.neck import Neck
from shop.worksheets.model.lacking import believed, spec_values
from shop.worksheets.together import ask, asking

SPEC = (
    "scale_bass_mm", "scale_treble_mm", "spread_nut_mm", "spread_bridge_mm", "board_radius_nut_mm",
    "board_radius_end_mm", "fret_count",
)  # fmt: skip


@dataclass(frozen=True)
class Layout:
    """Per string, bass to treble: `lateral` at the bridge and `scale`, mm; and geometry's neck."""

    neck: Neck
    lateral: np.ndarray
    scale: np.ndarray


@asking
def layout_of(sheet):
    bass, treble, nut, bridge, radius_nut, radius_end, frets = spec_values(sheet, *SPEC)
    count = len(sheet.strings)
    lateral = yield ask(
        string_spacing_mm, count, spread_mm=bridge, pair_gap_mm=_pair_gap(sheet, "pair_gap_bridge_mm")
    )  # fmt: skip
    scale = yield ask(string_scale_mm, lateral, scale_bass_mm=bass, scale_treble_mm=treble)
    at_nut = yield ask(string_spacing_mm, count, spread_mm=nut, pair_gap_mm=_pair_gap(sheet, "pair_gap_nut_mm"))
    neck = Neck(
        scale_mm=scale, lateral_bridge_mm=lateral, lateral_nut_mm=at_nut, radius_nut_mm=radius_nut,
        radius_end_mm=radius_end, end_fret=frets,
    )  # fmt: skip
    return Layout(neck, lateral, scale)


def _pair_gap(sheet, key):
    """How far the strings of a pair lie apart; 0 where the record knows of no pairs."""
    return believed(sheet, key) or 0.0


def per_string(sheet, key):
    """One reading of every string, bass to treble; NaN where there is none."""
    found = [sheet.value(key, number) for number in sheet.numbers]
    return np.array([np.nan if one is None else one for one in found])


def mid_targets(sheet, target_key):
    """Middle of every string's range; NaN where it has no two ends."""
    pairs = [sheet.target(target_key, number) for number in sheet.numbers]
    return np.array([np.nan if low is None or high is None else (low + high) / 2 for low, high in pairs])
