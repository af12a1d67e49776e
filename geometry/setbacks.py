"""How far crests and nut ought to stand back from where the scale puts them for every fret to come as true as it can.

Least squares over the frets of `geometry.prediction.fretted_cents` in its exact form; `geometry.setback_formula` has a
closed form to second order. What the string's ends do is uncertain, most of all for steel: `setback_range` gives both
ends of that range.
"""

from dataclasses import dataclass, replace

import numpy as np

from geometry.errors import GeometryError, as_not_negative, as_option
from geometry.fretting import Fretting
from geometry.prediction import fret_numbers, fretted_cents

__all__ = ["FREE", "SetbackRange", "Setbacks", "least_squares_setbacks", "setback_range"]

FREE = {"both": ("saddle_back_mm", "nut_back_mm"), "saddle": ("saddle_back_mm",), "nut": ("nut_back_mm",)}
STEP_MM = 0.02  # of the derivative: truncation 1e-9 and rounding 1e-10 of it
TOLERANCE_MM = 1e-8
MOST_ROUNDS = 30
LONGEST_MM = 3.0  # of one step: a longer one has left the place where its derivatives hold
HALVINGS = 8
ROUNDING = 1e-10  # of the sum of squares, in relation and in cents²


@dataclass(frozen=True)
class Setbacks:
    """Set-backs and what they leave; see `least_squares_setbacks`.

    Attributes
    ----------
    saddle_mm, nut_mm : numpy.ndarray
        Per string: how far back from where the scale puts it, longer string positive [mm].
    remains_cents : numpy.ndarray
        Shape (..., frets, strings): how sharp every fret stays [cents].
    rms_cents : numpy.ndarray
        Per string: root of the weighted mean square of that [cents].
    """

    saddle_mm: np.ndarray
    nut_mm: np.ndarray
    remains_cents: np.ndarray
    rms_cents: np.ndarray


@dataclass(frozen=True)
class SetbackRange:
    """Set-backs at both ends of what the string's ends may do, and as assumed; see `setback_range`.

    Attributes
    ----------
    pinned, assumed, clamped : Setbacks
        No end clamped; as the caller's `geometry.fretting.Fretting` has it; saddle, nut and fret all clamped.
    """

    pinned: Setbacks
    assumed: Setbacks
    clamped: Setbacks


def least_squares_setbacks(elastic, placement, *, fretting=None, frets=12, weights=None, free="both"):
    """Set-backs with the least weighted sum of squared cents over the frets, by Newton's iteration.

    The cents are all but linear in the set-backs, so a few rounds reach the minimum of the exact form; where a whole
    step would make a string worse it is halved. With one fret and one free end the fret comes exactly true.

    Derived; the cents are those of `geometry.prediction.fretted_cents`.

    Parameters
    ----------
    elastic : geometry.fretting.Elastic
        The strings.
    placement : geometry.fretting.Placement
        Nut, frets and crests; the set-backs in it are where to start and, for an end that is not free, what it keeps.
    fretting : geometry.fretting.Fretting, optional
        Finger and ends; the defaults if not given.
    frets : int or array_like
        How many frets from the first on, or fret numbers of one axis.
    weights : array_like, optional
        Shape (frets,) or (..., frets, strings): how much each fret counts, 0 or more; 1 if not given.
    free : str
        'both', 'saddle' or 'nut': which ends may move. 'both' needs at least two frets.

    Returns
    -------
    Setbacks
        Per string; NaN where a string is missing.

    Raises
    ------
    GeometryError
        Where the iteration does not settle: names the last step and the tolerance.

    Examples
    --------
    >>> from geometry.fretting import Fretting, Placement, elastic_from_sensitivity
    >>> nylon = elastic_from_sensitivity([23.6], radius_mm=0.356)
    >>> found = least_squares_setbacks(nylon, Placement(650, nut_mm=1, crest_mm=5), fretting=Fretting(press_mm=0))
    >>> found.saddle_mm.round(2).tolist(), found.nut_mm.round(2).tolist(), found.rms_cents.round(2).tolist()
    ([1.47], [-0.36], [0.15])
    """
    ends = FREE[as_option("free", free, FREE)]
    numbers = fret_numbers(frets)
    if len(np.unique(numbers)) < len(ends):
        raise GeometryError("frets", frets, "at least two different frets where both ends are free")
    weight = _weights(weights, len(numbers))
    placement, cents = _start(elastic, placement, fretting, numbers, weight)
    for _ in range(MOST_ROUNDS):
        slopes, bends = _derivatives(elastic, placement, fretting, numbers, ends, cents)
        steps = _newton_steps(cents, slopes, bends, weight)
        size = np.minimum(1.0, LONGEST_MM / np.maximum(np.max(np.abs(steps), axis=0), LONGEST_MM))
        for _ in range(HALVINGS):
            steps = [size * one for one in steps]
            moved = _moved(placement, dict(zip(ends, steps, strict=True)))
            found = fretted_cents(elastic, moved, fretting=fretting, frets=numbers).cents
            worse = _squares(found, weight) > _squares(cents, weight) * (1.0 + ROUNDING) + ROUNDING
            if not worse.any():
                break
            size = np.where(worse, 0.5, 1.0)
        placement, cents = moved, found
        last = max(float(np.max(np.abs(one), initial=0.0, where=~np.isnan(one))) for one in steps)
        if last <= TOLERANCE_MM:
            return _found(placement, cents, weight)
    said = f"such that set-backs settle: the last step was {last:g} mm, the tolerance is {TOLERANCE_MM:g} mm"
    raise GeometryError("frets", numbers.tolist(), said)


def _weights(weights, count):
    weight = as_not_negative("weights", np.ones(count) if weights is None else weights)
    if weight.ndim == 1:
        weight = weight[:, None]
    if weight.ndim < 2 or weight.shape[-2] != count:
        raise GeometryError("weights", weight.shape, f"of one weight for each of {count} frets")
    return weight


def _start(elastic, placement, fretting, numbers, weight):
    """Placement with set-backs of the answer's shape, and the cents there."""
    cents = fretted_cents(elastic, placement, fretting=fretting, frets=numbers).cents
    shape = np.broadcast_shapes(cents.shape, weight.shape)
    full = (*shape[:-2], shape[-1])
    backs = {end: np.broadcast_to(getattr(placement, end), full) for end in FREE["both"]}
    return replace(placement, **backs), cents


def _derivatives(elastic, placement, fretting, numbers, ends, cents):
    """Cents per mm of each set-back, and per mm², by central differences; with two ends the mixed one comes last."""

    def at(**steps):
        return fretted_cents(elastic, _moved(placement, steps), fretting=fretting, frets=numbers).cents

    sides = [[at(**{end: step}) for step in (-STEP_MM, STEP_MM)] for end in ends]
    slopes = [(more - less) / (2.0 * STEP_MM) for less, more in sides]
    bends = [(more - 2.0 * cents + less) / STEP_MM**2 for less, more in sides]
    if len(ends) == 2:
        both = at(**dict.fromkeys(ends, STEP_MM))
        bends.append((both - sides[0][1] - sides[1][1] + cents) / STEP_MM**2)
    return slopes, bends


def _moved(placement, steps):
    return replace(placement, **{end: getattr(placement, end) + step for end, step in steps.items()})


def _newton_steps(cents, slopes, bends, weight):
    """Newton's steps of one or two unknowns for the sum of squares; Gauss's, without the second derivatives, for the
    strings whose sum is not curved upwards here. Frets without an answer are left out."""
    known = ~np.isnan(cents) & ~np.isnan(weight)
    weight = np.where(known, weight, 0.0)
    cents, *rest = (np.where(known, one, 0.0) for one in (cents, *slopes, *bends))
    slopes, bends = rest[: len(slopes)], rest[len(slopes) :]
    pull = [-(weight * one * cents).sum(axis=-2) for one in slopes]
    gauss = [(weight * one * one).sum(axis=-2) for one in slopes]
    if len(slopes) == 2:
        gauss.append((weight * slopes[0] * slopes[1]).sum(axis=-2))
    newton = [one + (weight * cents * bend).sum(axis=-2) for one, bend in zip(gauss, bends, strict=True)]
    return [np.where(np.isnan(full), plain, full) for full, plain in zip(
        _solved(pull, newton), _solved(pull, gauss), strict=True
    )]  # fmt: skip


def _solved(pull, square):
    """Solution of the one or two equations; NaN where the matrix is not positive definite."""
    if len(pull) == 1:
        return [pull[0] / np.where(square[0] > 0, square[0], np.nan)]
    one, other, cross = square
    whole = one * other - cross * cross
    whole = np.where((one > 0) & (whole > 1e-12 * one * other), whole, np.nan)
    return [(pull[0] * other - pull[1] * cross) / whole, (pull[1] * one - pull[0] * cross) / whole]


def _squares(cents, weight):
    known = ~np.isnan(cents) & ~np.isnan(weight)
    return (np.where(known, weight, 0.0) * np.where(known, cents, 0.0) ** 2).sum(axis=-2)


def _found(placement, cents, weight):
    known = ~np.isnan(cents) & ~np.isnan(weight)
    counted = np.where(known, weight, 0.0)
    total = counted.sum(axis=-2)
    mean = (counted * np.where(known, cents, 0.0) ** 2).sum(axis=-2) / np.where(total > 0, total, np.nan)
    return Setbacks(placement.saddle_back_mm, placement.nut_back_mm, cents, np.sqrt(mean))


def setback_range(elastic, placement, *, fretting=None, frets=12, weights=None, free="both"):
    """Set-backs for ends all pinned, as assumed, and all clamped: what is not known about the ends, shown as a range.

    Derived: `least_squares_setbacks` three times; NaN where a string is missing.

    Parameters
    ----------
    elastic : geometry.fretting.Elastic
        The strings.
    placement : geometry.fretting.Placement
        Nut, frets and crests.
    fretting : geometry.fretting.Fretting, optional
        Finger and ends as assumed; the defaults if not given.
    frets : int or array_like
        As of `least_squares_setbacks`.
    weights : array_like, optional
        As of `least_squares_setbacks`.
    free : str
        As of `least_squares_setbacks`.

    Returns
    -------
    SetbackRange
        Three times `Setbacks`.

    Examples
    --------
    >>> from geometry.fretting import Placement, elastic_from_stiffness
    >>> steel = elastic_from_stiffness([72.0], axial_n=10134.0, bending_n_m2=4.0863e-5)
    >>> found = setback_range(steel, Placement(648, nut_mm=0.4, crest_mm=3.0), frets=[12], free="saddle")
    >>> [one.saddle_mm.round(1).tolist() for one in (found.pinned, found.assumed, found.clamped)]
    [[0.7], [1.4], [2.2]]
    """
    given = Fretting() if fretting is None else fretting
    known = {"frets": frets, "weights": weights, "free": free}
    ends = [replace(given, saddle_clamp=one, nut_clamp=one, fret_clamp=one) for one in (0.0, 1.0)]
    pinned, clamped = (least_squares_setbacks(elastic, placement, fretting=one, **known) for one in ends)
    return SetbackRange(pinned, least_squares_setbacks(elastic, placement, fretting=given, **known), clamped)
