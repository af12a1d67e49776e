"""Slots, crests and heights along the neck, in the fret frame."""

from dataclasses import dataclass

import numpy as np

from geometry.neck import crest_from_height_mm, height_at_fret_mm, nut_from_gap_mm
from shop.worksheets.model.lacking import Lacking
from shop.worksheets.model.layout import mid_targets, per_string
from shop.worksheets.together import ask, asking

USUAL_GAP = 0.2  # gap at fret 1 where neither a reading nor a target is there; common practice, no source


@dataclass(frozen=True)
class Heights:
    """Per string, bass to treble, mm in the fret frame.

    `nut` and `crest` for every string; `read` says which heights at fret 12 were read (the other crests follow the
    board's arch). `crest_wanted` gives the middle of every string's range at fret 12, NaN without a range.
    """

    relief: float
    height_12: np.ndarray
    read: np.ndarray
    nut: np.ndarray
    crest: np.ndarray
    crest_wanted: np.ndarray
    relief_read: bool
    gaps_read: bool


@asking
def heights_of(sheet, layout):
    height = per_string(sheet, "height_12")
    read = np.isfinite(height)
    if not read.any():
        raise Lacking("No height at fret 12 has been read.")
    relief = sheet.value("relief")
    gap = per_string(sheet, "nut_gap")
    nut = yield ask(nut_from_gap_mm, layout.neck, _filled_gaps(sheet, gap), relief_mm=relief or 0.0)
    known = {"nut_mm": nut, "relief_mm": relief or 0.0}
    crest = yield ask(crest_from_height_mm, layout.neck, height, **known)
    wanted = yield ask(crest_from_height_mm, layout.neck, mid_targets(sheet, "height_12"), **known)
    if not read.all():
        flat = np.full(height.shape, np.nanmean(height))
        even = yield ask(crest_from_height_mm, layout.neck, flat, **known)
        crest = _filled(crest, even, layout.lateral)
    return Heights(
        relief or 0.0, height, read, nut, crest, wanted, relief is not None, bool(np.isfinite(gap).all())
    )  # fmt: skip


@asking
def slot_per_gap(layout):
    """How far a nut slot moves for each millimetre of the gap at fret 1."""
    deep = yield ask(nut_from_gap_mm, layout.neck, np.ones(len(layout.scale)))
    shallow = yield ask(nut_from_gap_mm, layout.neck, np.zeros(len(layout.scale)))
    return float((deep - shallow)[0])


def _filled_gaps(sheet, gap):
    low, high = sheet.target("nut_gap")
    usual = USUAL_GAP if low is None or high is None else (low + high) / 2
    return np.where(np.isfinite(gap), gap, np.nanmean(gap) if np.isfinite(gap).any() else usual)


def _filled(crest, even, lateral):
    """Crests that were not read: those of equal heights, shifted and tilted onto the ones that were."""
    read = np.isfinite(crest)
    apart = (crest - even)[read]
    line = np.polyfit(lateral[read], apart, 1) if read.sum() > 1 else np.array([0.0, apart[0]])
    return np.where(read, crest, even + np.polyval(line, lateral))


def along_neck(layout, heights):
    """Heights over every fret, shape (frets, strings), mm."""
    frets = np.arange(1, int(layout.neck.end_fret) + 1)
    return height_at_fret_mm(
        layout.neck, frets, nut_mm=heights.nut, crest_mm=heights.crest, relief_mm=heights.relief
    )
