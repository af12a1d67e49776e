"""The strings under the fingers: how far they swing clear of the crowns, and how true every fret is."""

from dataclasses import dataclass, replace

import numpy as np

from geometry.crowns import crown_map_mm
from geometry.fretting import Fretting, Placement, elastic_from_stiffness
from geometry.materials import MATERIALS
from geometry.playing import BuzzMap, buzz_map
from geometry.prediction import fretted_cents
from geometry.strings import axial_stiffness_n, bending_stiffness_n_m2
from shop.worksheets.model.lacking import Lacking
from shop.worksheets.model.load import core_of, made_of

# Towards the board, in ordinary playing, of whose force most is along it: what strings in the middle of the usual
# ranges, which players call clean, just clear. Common practice, no source; a harder hand strikes sooner.
PLUCK_N, PLUCK_SHARE = 0.3, 0.15
OCTAVE_FRET, ROUNDS = 12, 3  # the slope is right to a hundredth: three rounds leave less than any tuner shows
BETWEEN = 0.5  # ends half-way between pinned and clamped: the middle of what is not known about them
CENTS_OF_LENGTH = 1200.0 / np.log(2.0)


@dataclass(frozen=True)
class Fretted:
    """How sharp every fret is, shape (frets, strings) [cents]; NaN for a string whose octave was not read.

    The string's stiffness and the press of the finger give the shape, its own octave as read the level. `doubt`: most
    that pinned and clamped ends differ from the middle [cents].
    """

    cents: np.ndarray
    doubt: float


def elastic_of(sheet, load):
    """How the strings answer to being stretched and bent; the core alone carries a wound string."""
    kinds = [made_of(one) for one in sheet.strings]
    young = np.array([MATERIALS[core].young_pa if core else np.nan for core, _ in kinds])
    core = np.array([
        core_of(one, wrap) if wrap else one.get("diameter_mm") or np.nan
        for one, (_, wrap) in zip(sheet.strings, kinds, strict=True)
    ])  # fmt: skip
    return elastic_from_stiffness(
        load.tension, axial_n=axial_stiffness_n(core, young_pa=young),
        bending_n_m2=bending_stiffness_n_m2(core, young_pa=young),
    )  # fmt: skip


def placement_of(layout, heights, frets=None):
    crown = crown_map_mm(layout.neck, relief_mm=heights.relief, frets=frets)
    return Placement(layout.scale, nut_mm=heights.nut, crest_mm=heights.crest, crown_mm=crown)


def ends_like(share):
    """A finger as usual, every end of the string `share` of the way from pinned to clamped."""
    return Fretting(saddle_clamp=share, nut_clamp=share, fret_clamp=share)


def buzz_of(layout, heights, load):
    """Margins of every string in every position, when it is plucked as in ordinary playing."""
    frets = layout.neck.end_fret
    share = min(PLUCK_SHARE, 0.9 * 2.0 ** (-float(np.max(frets)) / 12.0))  # beyond the last fret, on any board
    crown = crown_map_mm(layout.neck, relief_mm=heights.relief)
    found: BuzzMap = buzz_map(
        layout.neck, crown_mm=crown, nut_mm=heights.nut, crest_mm=heights.crest, tension_n=load.tension,
        pluck_n=PLUCK_N, pluck_share=share,
    )  # fmt: skip
    return found


def fretted_of(sheet, layout, heights, load, octaves):
    """Every fret of every string whose octave was read, its crest standing where that octave says."""
    if not np.isfinite(octaves.cents + load.tension).any():
        raise Lacking("No octave of a string that is known has been read.")
    elastic, frets = elastic_of(sheet, load), np.arange(1, int(layout.neck.end_fret) + 1)
    pinned, middle, clamped = (
        _levelled(elastic, layout, heights, octaves.cents, ends_like(share), frets) for share in (0.0, BETWEEN, 1.0)
    )
    apart = np.fmax(np.abs(pinned - middle), np.abs(clamped - middle))
    return Fretted(middle, float(np.nanmax(apart)))


def _levelled(elastic, layout, heights, wanted, finger, frets):
    """Cents at every fret, each crest moved along until its octave is as read."""
    octave = placement_of(layout, heights, [OCTAVE_FRET])
    back = np.zeros(layout.scale.shape)
    for _ in range(ROUNDS):
        found = fretted_cents(elastic, replace(octave, saddle_back_mm=back), fretting=finger, frets=[OCTAVE_FRET])
        # Longer by a millimetre, the octave falls by what its half has more than the whole.
        back = back + (found.cents[0] - wanted) * layout.scale / CENTS_OF_LENGTH
    placed = replace(placement_of(layout, heights, frets), saddle_back_mm=back)
    return fretted_cents(elastic, placed, fretting=finger, frets=frets).cents


def octave_now(sheet, layout, heights, load):
    """The octave that each string would have with its crest where the scale puts it: good for differences only."""
    found = fretted_cents(
        elastic_of(sheet, load), placement_of(layout, heights, [OCTAVE_FRET]), fretting=ends_like(BETWEEN),
        frets=[OCTAVE_FRET],
    )  # fmt: skip
    return found.cents[0]
