"""What a bent string does to its saddle, and what holds it there. Elementwise but for the loads on the posts."""

from dataclasses import dataclass

import numpy as np

from geometry.bridge import lever
from geometry.errors import GeometryError, as_not_negative, as_numbers, as_positive, as_within

__all__ = [
    "SaddleForce", "capstan_bound_cents", "holding_break_rad", "holding_force_n", "pluck_side_force_n", "post_loads_n",
    "saddle_force",
]  # fmt: skip

CENTS_PER_NEPER = 1200.0 / np.log(2.0)


@dataclass(frozen=True)
class SaddleForce:
    """Force of a string on its saddle, tension equal on both sides; see `saddle_force`.

    Attributes
    ----------
    resultant_n : numpy.ndarray
        Along the bisector of the bend [N].
    down_n : numpy.ndarray
        Straight down on the top [N].
    towards_nut_n : numpy.ndarray
        Along the top towards the nut; negative is towards the tail [N].
    """

    resultant_n: np.ndarray
    down_n: np.ndarray
    towards_nut_n: np.ndarray


def saddle_force(tension_n, *, front_fall_rad, rear_fall_rad):
    """Force of a string on its saddle and its two components.

    Resultant ``2·T·sin((φ + ρ)/2)``; straight down ``T·(sin φ + sin ρ)``; towards the nut ``T·(cos φ − cos ρ)``.
    Source: statics of two equal forces; friction left out.

    NaN where an argument is NaN.

    Parameters
    ----------
    tension_n : array_like
        Tension, 0 or more [N].
    front_fall_rad, rear_fall_rad : array_like
        Fall towards the nut and towards the tail [rad].

    Returns
    -------
    SaddleForce
        Three different numbers: always say which.

    Examples
    --------
    >>> force = saddle_force(70.0, front_fall_rad=0.0, rear_fall_rad=np.radians(10))
    >>> float(force.resultant_n.round(4)), float(force.down_n.round(4)), float(force.towards_nut_n.round(4))
    (12.2018, 12.1554, 1.0635)
    """
    tension = as_not_negative("tension_n", tension_n)
    front, rear = as_numbers("front_fall_rad", front_fall_rad), as_numbers("rear_fall_rad", rear_fall_rad)
    half_bend, half_lean = 0.5 * (front + rear), 0.5 * (rear - front)
    resultant = 2.0 * tension * np.sin(half_bend)
    # Sums of sines and cosines as products: no digits lost at shallow angles.
    return SaddleForce(resultant, resultant * np.cos(half_lean), resultant * np.sin(half_lean))


def post_loads_n(down_n, *, lateral_mm, span_mm):
    """Load on each of two posts, or studs, from all strings, by the lever. Per string in, per instrument out.

    Source: statics, moments about either post.

    Parameters
    ----------
    down_n : array_like
        Per string, shape (..., strings): straight down [N]; NaN where missing.
    lateral_mm : array_like
        Per string [mm].
    span_mm : array_like
        Per instrument: distance between the posts, above 0 [mm].

    Returns
    -------
    bass_n, treble_n : numpy.ndarray
        Per instrument [N]; NaN only where every string is missing.

    Examples
    --------
    >>> bass, treble = post_loads_n([10.0, 20.0], lateral_mm=[-20, 20], span_mm=80)
    >>> float(bass), float(treble)
    (12.5, 17.5)
    """
    down = as_numbers("down_n", down_n, strings=True)
    missing = np.isnan(down + as_numbers("lateral_mm", lateral_mm, strings=True))
    shares = lever(lateral_mm, span_mm=span_mm)
    present = np.where(missing, 0.0, down)
    none = np.where(np.logical_and.reduce(missing, axis=-1), np.nan, 0.0)
    return np.vecdot(present, shares[..., 0]) + none, np.vecdot(present, shares[..., 1]) + none


def holding_force_n(resultant_n, *, half_angle_rad):
    """Sideways force at which a string climbs out of its groove without friction, ``N·cot γ``.

    Source: derived; the string rests on two flanks inclined by γ from the upright, and climbing one needs that much.

    Parameters
    ----------
    resultant_n : array_like
        Force into the groove, 0 or more [N].
    half_angle_rad : array_like
        Half angle between the flanks, above 0 and below a quarter turn [rad].

    Returns
    -------
    numpy.ndarray or float
        [N]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(holding_force_n(12.0, half_angle_rad=np.radians(45)).round(9))
    12.0
    """
    return as_not_negative("resultant_n", resultant_n) / np.tan(_groove(half_angle_rad))


def holding_break_rad(side_n, *, tension_n, half_angle_rad):
    """Least break angle at which a groove holds a string against a sideways force: the inverse of `holding_force_n`.

    ``β = 2·asin(F·tan γ/(2·T))``. Derived.

    Parameters
    ----------
    side_n : array_like
        Sideways force at the saddle, 0 or more [N].
    tension_n : array_like
        Tension, above 0 [N].
    half_angle_rad : array_like
        Half angle between the groove's flanks [rad].

    Returns
    -------
    numpy.ndarray or float
        [rad]; infinite where no bend holds; NaN where an argument is NaN.

    Examples
    --------
    >>> float(np.degrees(holding_break_rad(3.0, tension_n=70.0, half_angle_rad=np.radians(40))).round(3))
    2.061
    """
    needed = as_not_negative("side_n", side_n) * np.tan(_groove(half_angle_rad))
    sine = 0.5 * needed / as_positive("tension_n", tension_n)
    return np.where(sine > 1.0, np.inf, 2.0 * np.arcsin(np.minimum(sine, 1.0)))[()]


def pluck_side_force_n(pluck_n, *, from_saddle_mm, length_mm):
    """Sideways force at the saddle from a pluck, ``F·(ℓ − p)/ℓ``: the string hands it to both ends by the lever.

    Source: statics; the same on a string at rest and, reflected, on a moving one.

    Parameters
    ----------
    pluck_n : array_like
        Force of the pluck across the string, 0 or more [N].
    from_saddle_mm : array_like
        Where it is plucked, from the saddle, 0 to `length_mm` [mm].
    length_mm : array_like
        Speaking length, above 0 [mm].

    Returns
    -------
    numpy.ndarray or float
        [N]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(pluck_side_force_n(3.0, from_saddle_mm=160, length_mm=640))
    2.25
    """
    length, place = as_positive("length_mm", length_mm), as_numbers("from_saddle_mm", from_saddle_mm)
    if np.count_nonzero((place < 0) | (place > length)):
        raise GeometryError("from_saddle_mm", place.tolist(), "from 0 to length_mm")
    return as_not_negative("pluck_n", pluck_n) * (1.0 - place / length)


def capstan_bound_cents(break_rad, *, friction):
    """Most by which pitch can stay off after a bend because the string sticks on its saddle: an upper bound.

    Tension may differ across the saddle by ``exp(μ·β)`` (Euler and Eytelwein; Baker & Haynes, Engineering Statics,
    'Flexible belts'), so pitch by ``600·log2(exp(μ·β)) = 600·μ·β/ln 2``. A real string keeps far less.

    Parameters
    ----------
    break_rad : array_like
        Bend over the saddle, 0 or more [rad].
    friction : array_like
        Coefficient of friction, 0 to 2.

    Returns
    -------
    numpy.ndarray or float
        [cents]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(capstan_bound_cents(np.radians(10), friction=0.2).round(2))
    30.22
    """
    bend = as_numbers("break_rad", break_rad)
    return 0.5 * CENTS_PER_NEPER * as_within("friction", friction, 0.0, 2.0) * np.maximum(bend, 0.0)


def _groove(half_angle_rad):
    angle = as_positive("half_angle_rad", half_angle_rad)
    if np.count_nonzero(angle >= 0.5 * np.pi):
        raise GeometryError("half_angle_rad", angle.tolist(), "below a quarter turn")
    return angle
