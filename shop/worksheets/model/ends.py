"""A bridge that carries all crests and is moved along at its two ends: both at once, over all strings."""

from dataclasses import dataclass

import numpy as np

from geometry.intonation import cents_after_move, end_moves
from shop.worksheets.families.parts import ENDS
from shop.worksheets.model.lacking import Lacking, spec_values
from shop.worksheets.together import ask, asking

SCREWS = ("screw_bass", "screw_treble")


@dataclass(frozen=True)
class Ends:
    """`bass`, `treble`: mm, back positive. `after`: cents of every string once they are made. `stuck`: an end can go

    no further forward.
    """

    bass: float
    treble: float
    after: np.ndarray
    stuck: bool


@asking
def ends_of(sheet, layout, octaves):
    if sheet.family.along.form != ENDS:
        raise Lacking("Every string has a saddle of its own: there are no two ends to push.")
    (span,) = spec_values(sheet, sheet.family.along.span_key)
    found = yield ask(end_moves, octaves.move, lateral_mm=layout.lateral, span_mm=span, lower_mm=_least(sheet))
    bass, treble = float(found.bass_mm), float(found.treble_mm)
    if not np.isfinite(bass + treble):
        raise Lacking("No octave has been read.")
    given = octaves.move - found.remains_mm
    after = yield ask(cents_after_move, octaves.cents, given, open_mm=layout.scale)
    return Ends(bass, treble, after, bool((found.bass_at_bound < 0) | (found.treble_at_bound < 0)))


def _least(sheet):
    """How far each end can come forward: a set screw only as far as it has pushed; a free bridge any way."""
    if sheet.family.any_field(SCREWS[0]) is None:
        return np.full(2, -np.inf)
    return np.array([-(sheet.value(key) or 0.0) for key in SCREWS])
