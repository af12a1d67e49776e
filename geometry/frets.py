"""Where the frets are, how the board is arched, and where each string runs across it.

Fret positions follow equal temperament on each string's own scale, so straight and fanned frets need no
separate treatment: `string_scale_mm` gives each string its scale and every length follows from it.
"""

import numpy as np

from geometry.errors import GeometryError, as_count, as_not_negative, as_numbers, as_positive, as_within

__all__ = [
    "bridge_radius_mm", "crown_drop_mm", "fan_offset_mm", "fret_fraction", "fret_position_mm", "fret_radius_mm",
    "speaking_length_mm", "string_lateral_mm", "string_scale_mm", "string_spacing_mm",
]  # fmt: skip

MOST_STRINGS = 24


def fret_fraction(fret):
    """How far along the scale a fret lies: ``1 − 2^(−n/12)``. Elementwise.

    Source: equal temperament, the frequency being inversely as the length.

    Parameters
    ----------
    fret : array_like
        Fret number, 0 for the nut, infinity for the bridge, 0 or more; NaN gives NaN.

    Returns
    -------
    numpy.ndarray or float
        From 0 at the nut to 1 at the bridge.

    Examples
    --------
    >>> fret_fraction([0, 12, 24, np.inf]).tolist()
    [0.0, 0.5, 0.75, 1.0]
    """
    if type(fret) is int and fret >= 0:
        return np.float64(1.0 - 2.0 ** (fret / -12.0))
    return 1.0 - np.exp2(as_not_negative("fret", fret) / -12.0)


def fret_position_mm(fret, *, scale_mm):
    """Distance from the nut's front edge to a fret's crown, ``L·(1 − 2^(−n/12))``. Elementwise.

    Source: equal temperament.

    Parameters
    ----------
    fret : array_like
        Fret number, 0 or more.
    scale_mm : array_like
        Scale length, above 0 [mm].

    Returns
    -------
    numpy.ndarray or float
        Distance [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> fret_position_mm([1, 12, 24], scale_mm=650).round(4).tolist()
    [36.4817, 325.0, 487.5]
    """
    return as_positive("scale_mm", scale_mm) * fret_fraction(fret)


def speaking_length_mm(fret, *, scale_mm):
    """Nominal length from a fret to the bridge, ``L·2^(−n/12)``: no set-back. Elementwise.

    Parameters
    ----------
    fret : array_like
        Fret number, 0 or more.
    scale_mm : array_like
        Scale length, above 0 [mm].

    Returns
    -------
    numpy.ndarray or float
        Length [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(speaking_length_mm(12, scale_mm=628))
    314.0
    """
    return as_positive("scale_mm", scale_mm) * (1.0 - fret_fraction(fret))


def string_spacing_mm(count, *, spread_mm, pair_gap_mm=0.0):
    """Lateral positions of strings at equal distances, or of pairs at equal distances, centred.

    Derived: equal steps, or equal gaps between strings of different thickness.

    Parameters
    ----------
    count : int
        Strings, 1 to 24.
    spread_mm : array_like
        Per instrument: distance between the outer strings, 0 or more [mm].
    pair_gap_mm : array_like
        Per instrument: distance between the two strings of a pair, 0 or more [mm]; 0 for strings that lie singly, and
        ignored where their number is odd.

    Returns
    -------
    numpy.ndarray
        Per string, shape (..., count), rising from bass (negative) to treble [mm].

    Examples
    --------
    >>> string_spacing_mm(6, spread_mm=50).tolist()
    [-25.0, -15.0, -5.0, 5.0, 15.0, 25.0]
    >>> string_spacing_mm(6, spread_mm=50, pair_gap_mm=2).tolist()
    [-25.0, -23.0, -1.0, 1.0, 23.0, 25.0]
    """
    strings = as_count("count", count, 1, MOST_STRINGS)
    spread = as_within("spread_mm", spread_mm, 0.0, 1000.0)
    gap = np.minimum(as_within("pair_gap_mm", pair_gap_mm, 0.0, 1000.0), spread)
    steps = np.arange(strings) - 0.5 * (strings - 1)
    single = spread[..., None] * steps / max(strings - 1, 1)
    if strings % 2:
        return single + 0.0 * gap[..., None]
    pairs = strings // 2
    middle = np.repeat(np.arange(pairs) - 0.5 * (pairs - 1), 2) * (spread - gap)[..., None] / max(pairs - 1, 1)
    return np.where(gap[..., None] > 0, middle + np.tile([-0.5, 0.5], pairs) * gap[..., None], single)


def string_lateral_mm(fret, *, lateral_nut_mm, lateral_bridge_mm):
    """Where each string crosses a fret: the straight line from nut to bridge.

    ``y = y_nut + (y_bridge − y_nut)·(1 − 2^(−n/12))``. Derived.

    Parameters
    ----------
    fret : array_like
        Per instrument: fret number.
    lateral_nut_mm, lateral_bridge_mm : array_like
        Per string, shape (..., strings): positions at the nut and at the bridge [mm]; NaN where missing.

    Returns
    -------
    numpy.ndarray
        Per string, shape (..., strings) [mm].

    Examples
    --------
    >>> string_lateral_mm(12, lateral_nut_mm=[-17.5, 17.5], lateral_bridge_mm=[-25.5, 25.5]).tolist()
    [-21.5, 21.5]
    """
    nut = as_numbers("lateral_nut_mm", lateral_nut_mm, strings=True)
    bridge = as_numbers("lateral_bridge_mm", lateral_bridge_mm, strings=True)
    return nut + (bridge - nut) * fret_fraction(fret)[..., None]


def string_scale_mm(lateral_mm, *, scale_bass_mm, scale_treble_mm):
    """Each string's own scale length, linear across from the lowest string to the highest.

    Equal scales give straight frets, different ones fanned frets. Common practice, no source.

    Parameters
    ----------
    lateral_mm : array_like
        Per string, shape (..., strings): positions at the bridge [mm]; NaN where missing.
    scale_bass_mm, scale_treble_mm : array_like
        Per instrument: scale along the lowest and along the highest string, above 0 [mm].

    Returns
    -------
    numpy.ndarray
        Per string [mm]; NaN where the string is missing. The outermost strings present get the two scales.

    Examples
    --------
    >>> string_scale_mm([-25, 0, 25], scale_bass_mm=650, scale_treble_mm=630).tolist()
    [650.0, 640.0, 630.0]
    """
    lateral = as_numbers("lateral_mm", lateral_mm, strings=True)
    bass = as_positive("scale_bass_mm", scale_bass_mm)[..., None]
    treble = as_positive("scale_treble_mm", scale_treble_mm)[..., None]
    lowest = np.fmin.reduce(lateral, axis=-1, keepdims=True)
    spread = np.fmax.reduce(lateral, axis=-1, keepdims=True) - lowest
    across = (lateral - lowest) / np.where(spread == 0.0, 1.0, spread)
    return bass + (treble - bass) * across


def fan_offset_mm(scale_mm, *, perpendicular_fret):
    """How far each string's nut end lies from the first string's along the centre line, with fanned frets.

    All strings' frets meet one line at right angles to the centre line at `perpendicular_fret`, so the nut end of
    a string of scale L lies at ``−L·(1 − 2^(−p/12))`` from that line. Derived.

    Parameters
    ----------
    scale_mm : array_like
        Per string, shape (..., strings): its scale [mm].
    perpendicular_fret : array_like
        Per instrument: the fret at right angles to the centre line; fractions allowed.

    Returns
    -------
    numpy.ndarray
        Per string: nut end, measured from the lowest string's, positive towards the bridge [mm].

    Examples
    --------
    >>> fan_offset_mm([650.0, 630.0], perpendicular_fret=12).tolist()
    [0.0, 10.0]
    """
    scale = as_positive("scale_mm", scale_mm, strings=True)
    from_line = -scale * fret_fraction(perpendicular_fret)[..., None]
    return from_line - from_line[..., :1]


def fret_radius_mm(fret, *, radius_nut_mm, radius_end_mm, end_fret):
    """Radius of the board under a fret: linear along the board from nut to last fret, and on beyond. Elementwise.

    ``R = R_nut + (R_end − R_nut)·x_n/x_end``. Source: a compound board is a cone by common practice; equal radii
    make it a cylinder.

    NaN where an argument is NaN.

    Parameters
    ----------
    fret : array_like
        Fret number; infinity for the bridge.
    radius_nut_mm, radius_end_mm : array_like
        Radius at the nut and at the last fret, above 0 [mm]; infinite at both for a flat board.
    end_fret : array_like
        Number of the last fret, above 0.

    Returns
    -------
    numpy.ndarray or float
        Radius [mm].

    Examples
    --------
    >>> float(fret_radius_mm(12, radius_nut_mm=250, radius_end_mm=400, end_fret=24))
    350.0
    """
    nut, end = _radius("radius_nut_mm", radius_nut_mm), _radius("radius_end_mm", radius_end_mm)
    along = fret_fraction(fret) / fret_fraction(as_positive("end_fret", end_fret))
    flat = np.isinf(nut)
    if not np.count_nonzero(flat | np.isinf(end)):
        return nut + (end - nut) * along
    if (flat != np.isinf(end)).any():
        raise GeometryError("radius_end_mm", end.tolist(), "infinite where radius_nut_mm is, and only there")
    with np.errstate(invalid="ignore"):
        return np.where(flat, np.inf, nut + (end - nut) * along)[()]


def _radius(name, value):
    """A radius above 0; infinite for a flat board."""
    radius = as_numbers(name, value)
    if np.count_nonzero(radius <= 0):
        raise GeometryError(name, radius.tolist(), "above 0")
    return radius


def bridge_radius_mm(*, radius_nut_mm, radius_end_mm, end_fret):
    """Radius of the board carried on to the bridge: what the crests have to follow. Elementwise.

    `fret_radius_mm` at infinity; NaN where an argument is NaN. Derived.

    Parameters
    ----------
    radius_nut_mm, radius_end_mm : array_like
        Radius at the nut and at the last fret, above 0 [mm]; infinite at both for a flat board.
    end_fret : array_like
        Number of the last fret, above 0.

    Returns
    -------
    numpy.ndarray or float
        Radius [mm]; not above 0 where the board narrows to a point before the bridge.

    Examples
    --------
    >>> float(bridge_radius_mm(radius_nut_mm=250, radius_end_mm=400, end_fret=24))
    450.0
    """
    return fret_radius_mm(np.inf, radius_nut_mm=radius_nut_mm, radius_end_mm=radius_end_mm, end_fret=end_fret)


def crown_drop_mm(lateral_mm, *, radius_mm):
    """How much lower a crown of a radius is at the side than in the middle. Elementwise.

    ``R − sqrt(R² − y²)``, computed as ``y²/(R + sqrt(R² − y²))``, which loses no digits for a flat board.
    Source: the circle's sagitta (intersecting chords).

    Parameters
    ----------
    lateral_mm : array_like
        Distance from the middle, at most the radius either way [mm].
    radius_mm : array_like
        Radius, above 0, infinite for flat [mm].

    Returns
    -------
    numpy.ndarray or float
        Drop, 0 or more [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> crown_drop_mm([0, 6, 8], radius_mm=10).tolist()
    [0.0, 2.0, 4.0]
    >>> float(crown_drop_mm(25, radius_mm=np.inf))
    0.0
    """
    lateral, radius = as_numbers("lateral_mm", lateral_mm), _radius("radius_mm", radius_mm)
    if np.count_nonzero(np.abs(lateral) > radius):
        raise GeometryError("lateral_mm", lateral.tolist(), "at most radius_mm either way")
    squared = lateral * lateral
    return squared / (radius + np.sqrt(radius * radius - squared))
