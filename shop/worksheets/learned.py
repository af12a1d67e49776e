"""What a shop's finished sheets say of the strings' ends, and the set-backs that follow for one instrument.

An octave that was read with its saddle's place says how much that string sharpens when it is fretted. Over a few
finished instruments that narrows what nobody knows beforehand, how far the string's ends are clamped; and the narrowed
model says where the crests of another instrument belong, with its own heights, scale and pitch.
"""

from dataclasses import dataclass, fields, replace

import numpy as np

from geometry.errors import GeometryError
from geometry.fitting import BOUNDS, fit_fretting
from geometry.fretting import Elastic, Placement
from geometry.setbacks import least_squares_setbacks
from shop.worksheets.checks.bench import Bench
from shop.worksheets.model.fretted import BETWEEN, OCTAVE_FRET, elastic_of, ends_like, placement_of
from shop.worksheets.model.lacking import Lacking
from shop.worksheets.wording.said import Said

# From pinned to clamped, any share is as likely as another: a rectangular distribution's middle and standard deviation,
# GUM (JCGM 100:2008) 4.3.7.
SHARE = "every_clamp"
PRIOR = {SHARE: (BETWEEN, 1.0 / np.sqrt(12.0))}
READING_CENTS = 1.0  # a tuner, and a rule at the saddle, in one hand; common practice, no source
LEAST_STRINGS = 3  # with fewer, where the whole bridge stands takes up what they say
NUDGE = 1e-3  # of the share, for what a set-back gains by it


@dataclass(frozen=True)
class Share:
    """How far ends are clamped here, 0 to 1, with its standard uncertainty, from `count` instruments a string.

    `scatter_cents`: what the readings scatter about the fit; `scatter_mm`: the same, of one crest.
    """

    value: float
    standard: float
    scatter_cents: float
    scatter_mm: float
    count: tuple


@dataclass(frozen=True)
class Finished:
    """One instrument for the fit. `cents` are its octaves, NaN where octave or saddle's place was not read."""

    elastic: Elastic
    placement: Placement
    cents: np.ndarray


def finished_of(sheet, place, cents):
    """A finished sheet for the fit, or None where it carries too little.

    `place`: its crests, one against another, back positive, mm.
    """
    known = np.isfinite(place) & np.isfinite(cents)
    if known.sum() < LEAST_STRINGS:
        return None
    try:
        elastic, placement = _strings_of(sheet)
    except (Lacking, GeometryError):
        return None
    return Finished(elastic, replace(placement, saddle_back_mm=np.where(known, place, 0.0)),
                    np.where(known, cents, np.nan))  # fmt: skip


def _strings_of(sheet):
    """(Elastic, Placement) at the octave's fret."""
    bench = Bench(sheet, Said())
    layout, heights, load = (bench.part(name) for name in ("layout", "heights", "load"))
    if layout is None or heights is None or load is None:
        raise Lacking("; ".join(bench.why_not.values()))
    return elastic_of(sheet, load), placement_of(layout, heights, [OCTAVE_FRET])


def share_of(finished):
    """The Share that fits these instruments best, or None where there is none."""
    scales = np.array([one.placement.scale_mm for one in finished])
    try:
        fit = fit_fretting(
            np.stack([one.cents for one in finished])[:, None], _stacked([one.elastic for one in finished]),
            _stacked([one.placement for one in finished]), frets=[OCTAVE_FRET], free=(SHARE,), prior=PRIOR,
            start=ends_like(BETWEEN), reading_cents=READING_CENTS, places="relative",
        )  # fmt: skip
    except GeometryError:
        return None
    if fit.at_bound.any():
        return None  # more than any end can do: something else is at work
    count = tuple(np.isfinite([one.cents for one in finished]).sum(axis=0).tolist())
    scatter = fit.scatter_cents
    return Share(float(fit.values[0]), float(fit.standard[0]), scatter, _mm(scatter, scales), count)


def learned_for(sheet, share):
    """(set-backs, standard uncertainty) of `sheet`'s strings behind that of the highest, back positive, mm.

    The uncertainty is that of one more instrument: of the fit, and of what instruments scatter about it. None where the
    sheet carries too little.
    """
    try:
        elastic, placement = _strings_of(sheet)
        behind, slope = _behind(elastic, placement, share.value)
    except (Lacking, GeometryError):
        return None
    if not np.isfinite(behind).all():
        return None
    among = np.sqrt(2.0) * _mm(share.scatter_cents, placement.scale_mm) * (np.arange(len(behind)) < len(behind) - 1)
    return behind, np.hypot(slope * share.standard, among)


def _behind(elastic, placement, middle):
    """Set-backs behind the highest string's, and what they gain by the share; per string."""
    share = np.clip(middle + NUDGE * np.array([0.0, -1.0, 1.0]), *BOUNDS[SHARE])
    finger = ends_like(share[:, None])
    backs = least_squares_setbacks(elastic, placement, fretting=finger, frets=[OCTAVE_FRET], free="saddle").saddle_mm
    behind = backs - backs[:, -1:]
    return behind[0], (behind[2] - behind[1]) / (share[2] - share[1])


def _stacked(records):
    """One record of arrays of many: a new first axis."""
    names = [one.name for one in fields(records[0])]
    return type(records[0])(**{name: np.stack([_over(one, name) for one in records]) for name in names})


def _over(record, name):
    """A field with an axis of strings."""
    count = max(getattr(record, one.name).shape[-1] for one in fields(record))
    value = getattr(record, name)
    return np.broadcast_to(value, (*value.shape[:-1], count))


def _mm(cents, scale_mm):
    """How far a crest stands off for so many cents at the octave: the derivative of 2^(c/1200), L·ln 2/1200."""
    return float(cents * np.mean(scale_mm) * np.log(2.0) / 1200.0)
