"""From a reading of the fretted octave to the move of the crest that makes it true."""

from dataclasses import dataclass

import numpy as np

from geometry.bridge import lever
from geometry.errors import GeometryError, as_numbers, as_positive
from geometry.least_squares import bounded_least_squares

__all__ = ["EndMoves", "LearnedMove", "cents_after_move", "end_moves", "intonation_move_mm", "learned_move"]

CENTS_PER_NEPER = 1200.0 / np.log(2.0)
NOTHING_KNOWN = 1e-12  # [mm²/cents²]: crests a ten-millionth of a millimetre apart stood at one place


@dataclass(frozen=True)
class LearnedMove:
    """A move found from a string's own readings; see `learned_move`.

    Attributes
    ----------
    move_mm : numpy.ndarray
        From where the crest is now, back (longer) positive [mm].
    standard_mm : numpy.ndarray
        Its standard uncertainty [mm].
    response_cents_per_mm : numpy.ndarray
        Cents per mm towards the tail; negative.
    error_cents : numpy.ndarray
        Where the octave is now, by all readings together [cents].
    suspect : numpy.ndarray
        Whether the readings contradict the model's response: look at string, slot and seating before moving on.
    """

    move_mm: np.ndarray
    standard_mm: np.ndarray
    response_cents_per_mm: np.ndarray
    error_cents: np.ndarray
    suspect: np.ndarray


@dataclass(frozen=True)
class EndMoves:
    """Moves of the two ends of a bridge that carries all crests; see `end_moves`.

    Attributes
    ----------
    bass_mm, treble_mm : numpy.ndarray
        Per instrument: back positive [mm].
    remains_mm : numpy.ndarray
        Per string: move wanted less move given [mm].
    bass_at_bound, treble_at_bound : numpy.ndarray
        Per instrument: −1 or 1 where the end can go no further, else 0.
    """

    bass_mm: np.ndarray
    treble_mm: np.ndarray
    remains_mm: np.ndarray
    bass_at_bound: np.ndarray
    treble_at_bound: np.ndarray


def _lengths(open_mm, fret, fretted_mm):
    whole, number = as_positive("open_mm", open_mm), as_positive("fret", fret)
    fretted = whole * np.exp2(-number / 12.0) if fretted_mm is None else as_positive("fretted_mm", fretted_mm)
    if np.count_nonzero(fretted >= whole):
        raise GeometryError("fretted_mm", fretted.tolist(), "below open_mm")
    return whole, fretted


def intonation_move_mm(interval_cents, *, open_mm, fret=12, fretted_mm=None):
    """Exact move of a crest that makes a fretted note true, its stretch held. Elementwise.

    With open length L, speaking length ℓ and error c the stretch is ``s = 2^(n/12)·2^(c/1200)·ℓ/L``, and
    ``(L + δ)·s = 2^(n/12)·(ℓ + δ)`` gives ``δ = ℓ·(a − 1)/(1 − a·ℓ/L)`` with ``a = 2^(c/1200)``. At fret 12 that is
    near ``L·ln 2/1200`` per cent: 0.36 mm on 628 mm. Derived.

    Parameters
    ----------
    interval_cents : array_like
        How sharp the fretted note is against its true place over the open string; against the harmonic for fret 12
        [cents].
    open_mm : array_like
        Open speaking length, above 0 [mm].
    fret : array_like
        Where it was fretted, above 0.
    fretted_mm : array_like, optional
        Speaking length from that fret, below `open_mm`; ``open·2^(−n/12)`` if not given [mm].

    Returns
    -------
    numpy.ndarray or float
        Back (longer) positive: a sharp note needs a longer string [mm]. NaN where an argument is NaN, or where no move
        helps.

    Examples
    --------
    >>> intonation_move_mm([1.0, -5.0, np.nan], open_mm=628.0).round(4).tolist()
    [0.3631, -1.8059, nan]
    """
    whole, fretted = _lengths(open_mm, fret, fretted_mm)
    exponent = as_numbers("interval_cents", interval_cents) / CENTS_PER_NEPER
    left = 1.0 - np.exp(exponent) * fretted / whole
    return (fretted * np.expm1(exponent) / np.where(left > 0, left, np.nan))[()]


def cents_after_move(interval_cents, move_mm, *, open_mm, fret=12, fretted_mm=None):
    """Where a fretted note stands after its crest has moved, its stretch held. Elementwise.

    ``c + 1200·log2((1 + δ/L)/(1 + δ/ℓ))``: the inverse of `intonation_move_mm`. Derived.

    Parameters
    ----------
    interval_cents : array_like
        How sharp the fretted note is now [cents].
    move_mm : array_like
        Move of the crest, back positive; less than the fretted length forward [mm].
    open_mm : array_like
        Open speaking length before the move, above 0 [mm].
    fret : array_like
        Where it is fretted, above 0.
    fretted_mm : array_like, optional
        Speaking length from that fret before the move; ``open·2^(−n/12)`` if not given [mm].

    Returns
    -------
    numpy.ndarray or float
        [cents]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(cents_after_move(1.0, 0.3629, open_mm=628.0).round(3))
    0.0
    """
    whole, fretted = _lengths(open_mm, fret, fretted_mm)
    move = as_numbers("move_mm", move_mm)
    if (move <= -fretted).any():
        raise GeometryError("move_mm", move.tolist(), "less than the fretted length forward")
    change = np.log1p(move / whole) - np.log1p(move / fretted)
    return as_numbers("interval_cents", interval_cents) + CENTS_PER_NEPER * change


def learned_move(position_mm, interval_cents, *, open_mm, fret=12, tuner_cents=0.1, doubt=0.3, bend=0.02):
    """Next move of a crest from its readings so far: a secant that the tuner's noise cannot throw.

    A straight line ``cents = α + k·x`` through the readings of one string, with the model's response ``k₀ = −1/(mm per
    cent)`` as prior knowledge, normal with relative width `doubt`. Two clear readings make it their secant; readings
    close together, or one alone, leave it the model's. A reading counts with
    ``u² = tuner² + (bend·cents)²``, so that far ones, where the line bends, count less. Derived (Bayesian regression).

    Parameters
    ----------
    position_mm : array_like
        Shape (..., readings): where the crest stood, from any fixed place, back positive; in the order read [mm].
    interval_cents : array_like
        Same shape: how sharp the fretted note was [cents]; NaN for none taken.
    open_mm : array_like
        Shape (...): open length at the last reading, above 0 [mm].
    fret : array_like
        Where it is fretted, above 0.
    tuner_cents : array_like
        Shape (...): standard uncertainty of one reading, above 0 [cents].
    doubt : float
        How far the model's response may be off, relative, above 0.
    bend : float
        How far the line bends, relative to the reading, 0 to 1.

    Returns
    -------
    LearnedMove
        Shape (...); NaN where no reading was taken.

    Examples
    --------
    >>> first = learned_move([0.0], [6.0], open_mm=628.0)
    >>> float(first.move_mm.round(3)), bool(first.suspect)
    (2.176, False)
    >>> second = learned_move([0.0, 2.17], [6.0, 1.2], open_mm=628.0)
    >>> float(second.move_mm.round(2)), float(second.response_cents_per_mm.round(2))
    (0.54, -2.22)
    """
    place = as_numbers("position_mm", position_mm, strings=True)
    cents = as_numbers("interval_cents", interval_cents, strings=True)
    place, cents = np.broadcast_arrays(place, cents)
    taken = ~np.isnan(place + cents)
    noise = as_positive("tuner_cents", tuner_cents)[..., None] ** 2 + (as_positive("bend", bend) * cents) ** 2
    weight = np.where(taken, 1.0 / np.where(taken, noise, 1.0), 0.0)
    place, cents = np.where(taken, place, 0.0), np.where(taken, cents, 0.0)
    total = weight.sum(axis=-1)
    total = np.where(total > 0, total, np.nan)
    x_mean, c_mean = (weight * place).sum(axis=-1) / total, (weight * cents).sum(axis=-1) / total
    apart = place - x_mean[..., None]
    known = (weight * apart * apart).sum(axis=-1)
    known = np.where(known > NOTHING_KNOWN, known, 0.0)
    whole, fretted = _lengths(open_mm, fret, None)
    model = CENTS_PER_NEPER * (1.0 / whole - 1.0 / fretted)
    prior = 1.0 / (as_positive("doubt", doubt) * model) ** 2
    alone = (weight * apart * cents).sum(axis=-1)
    slope = (alone + prior * model) / (known + prior)
    clash = np.abs(alone / np.where(known > 0, known, np.nan) - model)
    suspect = (clash > 3.0 * np.sqrt(1.0 / prior + 1.0 / np.where(known > 0, known, np.nan))) | (slope >= 0)
    slope = np.where(slope < 0, slope, model)
    goal = x_mean - c_mean / slope
    last = _last(place, taken)
    spread = np.sqrt(1.0 / total + (goal - x_mean) ** 2 / (known + prior)) / np.abs(slope)
    error = c_mean + slope * (last - x_mean)
    return LearnedMove(goal - last, spread, np.where(np.isnan(total), np.nan, slope)[()], error, suspect)


def _last(place, taken):
    """The last place at which a reading was taken."""
    index = taken.shape[-1] - 1 - np.argmax(taken[..., ::-1], axis=-1)
    return np.take_along_axis(place, index[..., None], axis=-1)[..., 0]


def end_moves(move_mm, *, lateral_mm, span_mm, lower_mm=-np.inf, upper_mm=np.inf, weights=None):
    """Both ends of a bridge that carries all crests: set screws of a wraparound, or a floating bridge's place.

    Bounded weighted least squares of two unknowns over all strings. Derived.

    Parameters
    ----------
    move_mm : array_like
        Per string: move wanted, back positive [mm]; NaN leaves the string out.
    lateral_mm : array_like
        Per string [mm].
    span_mm : array_like
        Per instrument: distance between the ends, above 0 [mm].
    lower_mm, upper_mm : array_like
        Shape (..., 2), or one number: least and most for bass and treble end [mm]. Screws that can only push the
        bridge back from its studs: `lower_mm` is what they can be let out, negative or 0.
    weights : array_like, optional
        Per string, 0 or more; 1 if not given.

    Returns
    -------
    EndMoves
        NaN where no string is left.

    Examples
    --------
    >>> moves = end_moves([1.0, 0.5, 0.0], lateral_mm=[-25, 0, 25], span_mm=100, lower_mm=0.0)
    >>> float(moves.bass_mm.round(9)), float(moves.treble_mm), int(moves.treble_at_bound)
    (1.142857143, 0.0, -1)
    """
    shares = lever(lateral_mm, span_mm=span_mm)
    wanted = as_numbers("move_mm", move_mm, strings=True) + 0.0 * as_numbers("lateral_mm", lateral_mm)
    fit = bounded_least_squares(shares, wanted, lower=lower_mm, upper=upper_mm, weights=weights)
    bass, treble = fit.solution[..., 0], fit.solution[..., 1]
    return EndMoves(bass, treble, fit.residual, fit.at_bound[..., 0], fit.at_bound[..., 1])
