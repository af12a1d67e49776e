"""Both ends of a bridge moved at once, and what that does to every string."""

from dataclasses import dataclass

import numpy as np

from geometry.arch import ArchFit, fit_arch
from geometry.bridge import crest_on_posts_mm, post_moves
from geometry.neck import height_at_fret_mm
from shop.worksheets.families.parts import ENDS
from shop.worksheets.model.lacking import Lacking, spec_values
from shop.worksheets.together import ask, asking


@dataclass(frozen=True)
class Posts:
    """Moves that bring the outer strings that are out to the middle of their range and leave the others.

    `bass`, `treble`: mm, up positive. `after`: height at fret 12 of every string once they are made.
    """

    bass: float
    treble: float
    after: np.ndarray


@asking
def posts_for(sheet, layout, heights, out):
    """`out`: per string, whether it is to be brought to the middle of its range."""
    if sheet.family.height.form != ENDS:
        raise Lacking("Every string has a saddle of its own height: there are no two ends to turn.")
    (span,) = spec_values(sheet, sheet.family.height.span_key)
    outer = np.zeros(len(sheet.strings), dtype=bool)
    outer[[0, -1]] = True
    goal = np.where(out, heights.crest_wanted, heights.crest)
    wanted = np.where(outer & heights.read, goal - heights.crest, np.nan)
    found = yield ask(post_moves, wanted, lateral_mm=layout.lateral, span_mm=span)
    bass, treble = float(found.bass_mm), float(found.treble_mm)
    if not np.isfinite(bass + treble):
        raise Lacking("The outer strings' heights at fret 12 and their targets are needed.")
    ends = {"span_mm": span, "bass_mm": bass, "treble_mm": treble}
    crest = yield ask(crest_on_posts_mm, heights.crest, lateral_mm=layout.lateral, **ends)
    after = yield ask(
        height_at_fret_mm, layout.neck, 12, nut_mm=heights.nut, crest_mm=crest, relief_mm=heights.relief
    )  # fmt: skip
    return Posts(bass, treble, after)


@dataclass(frozen=True)
class Arch:
    """The crests against the arch that they ought to have; per string, bass to treble, mm."""

    fit: ArchFit
    lateral: np.ndarray
    crest: np.ndarray
    needed: np.ndarray


@asking
def arch_of(sheet, layout, heights):
    if sheet.family.height.form != ENDS:
        raise Lacking("Every string has a saddle of its own height: there is no arch to cut.")
    if heights.read.sum() < 3:
        raise Lacking("Read at least three strings at fret 12, and better all of them.")
    (span,) = spec_values(sheet, sheet.family.height.span_key)
    crest = np.where(heights.read, heights.crest, np.nan)
    fit = yield ask(fit_arch, crest, heights.crest_wanted, lateral_mm=layout.lateral, span_mm=span)
    if not np.isfinite(fit.error_mm).any():
        raise Lacking("The profile has no targets for the height at fret 12.")
    # Where the crests ought to be for the posts as they stand: the arch itself, shifted and tilted onto the crests.
    return Arch(fit, layout.lateral, crest, crest - fit.error_mm)
