"""'What if': another string set, tuning, target profile or stringing, on a copy of the sheet. Nothing is stored."""

from dataclasses import dataclass, replace

import numpy as np

from geometry.errors import GeometryError
from geometry.setbacks import setback_range
from geometry.strings import total_load_n
from shop.worksheets.checks.bench import Bench
from shop.worksheets.model.fretted import BETWEEN, elastic_of, ends_like, octave_now, placement_of
from shop.worksheets.model.lacking import believed
from shop.worksheets.plan import neck
from shop.worksheets.plan.expected import after

SETBACK_FRETS = np.array([12.0])  # where intonation is set
NEWTONS = 100.0  # the record says how much relief this much pull makes


@dataclass(frozen=True)
class Change:
    """What is changed; None leaves a part as it is.

    `strings` replace the sheet's, bass to treble, `targets` its ranges, `stringing` the way the strings go.
    """

    strings: tuple | None = None
    targets: dict | None = None
    stringing: str | None = None


@dataclass(frozen=True)
class Supposed:
    """The sheet as it would read: `sheet`; `relief` is its change, None where nobody knows how the neck gives.

    Per string, bass to treble: `tension_before`, `tension` [N]; `octave` the change of each octave [cents];
    `setback_before`, `setback`: least and most set-back at the saddle, shape (strings, 2) [mm]. NaN where not known.
    """

    sheet: object
    relief: float | None
    tension_before: np.ndarray
    tension: np.ndarray
    octave: np.ndarray
    setback_before: np.ndarray
    setback: np.ndarray

    @property
    def total_before(self):
        return float(total_load_n(self.tension_before))

    @property
    def total(self):
        return float(total_load_n(self.tension))


def suppose(sheet, change, *, said):
    """`sheet` with `change` made, and what the model says of it."""
    changed = replace(
        sheet, strings=change.strings or sheet.strings, targets=change.targets or sheet.targets,
        stringing=change.stringing or sheet.stringing,
    )  # fmt: skip
    was, now = Bench(sheet, said), Bench(changed, said)
    relief = _relief_change(was, now)
    bent = _bent(now, relief) if relief else changed
    octave = _octave_change(was, Bench(bent, said))
    shifts = {("octave", n): float(octave[i]) for i, n in enumerate(sheet.numbers) if np.isfinite(octave[i])}
    moved = {place: shift for place, shift in shifts.items() if abs(shift) > 1e-9}
    return Supposed(
        after(bent, {}, shifts=moved) if moved else bent, relief, _tension(was), _tension(now), octave,
        _setbacks(was), _setbacks(now),
    )  # fmt: skip


def _nothing(bench):
    return np.full(len(bench.sheet.strings), np.nan)


def _tension(bench):
    load = bench.part("load")
    return _nothing(bench) if load is None else load.tension


def _relief_change(was, now):
    """More pull bows the neck more: by what the record says of this neck, else nobody knows."""
    give = believed(was.sheet, "neck_give_mm")
    loads = [one.part("load") for one in (was, now)]
    if give is None or None in loads or any(np.isnan(one.tension).any() for one in loads):
        return None
    return give * (loads[1].total - loads[0].total) / NEWTONS


def _bent(bench, change):
    """The readings once the neck has bowed by `change`: heights and gaps go along."""
    return neck.bowed(bench, change) or bench.sheet


def _octave_change(was, now):
    """Crests where they are: what other strings, heights and relief do to each octave."""
    found = []
    for bench in (was, now):
        parts = [bench.part(name) for name in ("layout", "heights", "load")]
        if any(part is None for part in parts):
            return _nothing(was)
        try:
            found.append(octave_now(bench.sheet, *parts))
        except GeometryError:
            return _nothing(was)
    return found[1] - found[0]


def _setbacks(bench):
    """Least and most for a true octave, over what is not known of the strings' ends."""
    layout, heights, load = (bench.part(name) for name in ("layout", "heights", "load"))
    nothing = np.full((len(bench.sheet.strings), 2), np.nan)
    if layout is None or heights is None or load is None:
        return nothing
    try:
        found = setback_range(
            elastic_of(bench.sheet, load), placement_of(layout, heights, SETBACK_FRETS),
            fretting=ends_like(BETWEEN), frets=SETBACK_FRETS, free="saddle",
        )  # fmt: skip
    except GeometryError:
        return nothing
    ends = np.stack([found.pinned.saddle_mm, found.clamped.saddle_mm], axis=-1)
    return np.sort(ends, axis=-1)
