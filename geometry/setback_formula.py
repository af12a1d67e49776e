"""Set-backs of crest and nut in closed form, to second order in stiffness and height."""

import numpy as np

from geometry.errors import GeometryError, as_numbers, as_positive, as_within
from geometry.prediction import fret_numbers

__all__ = ["closed_form_setbacks", "closed_form_weights"]


def closed_form_weights(frets):
    """What the closed form needs of a set of frets: projections of its fret-dependent terms on ``γ − 1`` and on 1.

    Parameters
    ----------
    frets : int or array_like
        How many frets from the first on, or fret numbers of one axis; at least two different ones.

    Returns
    -------
    dict of tuple of float
        'stretch' for ``γ²/(γ − 1)`` and 'bend' for ``γ² − 1``: (slope, constant). For frets 1 to 12 the paper's
        coefficients are the first slope, −9.848, and half of the first constant, 5.633.

    Examples
    --------
    >>> slope, constant = closed_form_weights(12)["stretch"]
    >>> float(slope.round(3)), float((constant / 2).round(3))
    (-9.848, 5.633)
    """
    gamma = np.exp2(fret_numbers(frets) / 12.0)
    if len(np.unique(gamma)) < 2:
        raise GeometryError("frets", frets, "at least two different frets")
    way = gamma - 1.0
    apart = way - way.mean()

    def projected(term):
        slope = (apart * term).sum() / (apart * apart).sum()
        return slope, term.mean() - slope * way.mean()

    return {"stretch": projected(gamma * gamma / way), "bend": projected(gamma * gamma - 1.0)}


def closed_form_setbacks(elastic, *, scale_mm, nut_mm, climb_mm, frets=12, saddle_clamp=1.0, fret_clamp=0.0):
    """Set-backs in closed form, to second order, the string pressed right at the fret.

    With ``b`` the nut's and ``c`` the crest's height over the nut, e the clamped ends and ``ε = λ/X₀``:
    ``ΔS = [e·ε + s·(e² + π²)/2·ε²]·X₀ + κ/(4·X₀)·(p·b² + 2·b·c + c²)``,
    ``ΔN = −k·(e² + π²)/2·ε²·X₀ − κ/(4·X₀)·(q·b² + 2·b·c)`` with (p, q) and (s, k) from `closed_form_weights`. Source:
    Anderson & Beausoleil (2024), appendix on least squares, who round s to 3 and ``−k·(1 + π²)/2`` to 1; for other
    frets and ends derived in the same way. Nut and fret are taken as clamped alike; what the heights do to the lengths
    themselves and to the string's mass is left out, a few per cent of the set-backs.

    Parameters
    ----------
    elastic : geometry.fretting.Elastic
        The strings.
    scale_mm : array_like
        Per string: scale [mm].
    nut_mm, climb_mm : array_like
        Per string: slot above the plane of the frets, and crest above the slot; relief adds twice what it opens at
        fret 12 to the climb [mm].
    frets : int or array_like
        How many frets from the first on, or fret numbers of one axis.
    saddle_clamp, fret_clamp : array_like
        Per string: ends, 0 for pinned to 1 for clamped.

    Returns
    -------
    saddle_mm, nut_mm : numpy.ndarray
        Per string [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> from geometry.fretting import elastic_from_sensitivity
    >>> fluorocarbon = elastic_from_sensitivity([21.8, 23.5], radius_mm=[0.305, 0.559])
    >>> saddle, nut = closed_form_setbacks(fluorocarbon, scale_mm=650, nut_mm=1.0, climb_mm=4.0)
    >>> saddle.round(2).tolist(), nut.round(2).tolist()
    ([1.29, 2.29], [-0.33, -0.35])
    """
    scale, nut = as_positive("scale_mm", scale_mm), as_numbers("nut_mm", nut_mm)
    climb = as_numbers("climb_mm", climb_mm)
    ends = as_within("saddle_clamp", saddle_clamp, 0.0, 1.0) + as_within("fret_clamp", fret_clamp, 0.0, 1.0)
    known = closed_form_weights(frets)
    (steep, level), (bend_steep, bend_level) = known["stretch"], known["bend"]
    bend = elastic.bend_length_mm
    second = 0.5 * (ends * ends + np.pi**2) * bend * bend / scale
    stretch = 0.25 * elastic.stretch_ratio / scale
    saddle = ends * bend + bend_steep * second + stretch * (steep * nut * nut + 2.0 * nut * climb + climb * climb)
    return saddle, -bend_level * second - stretch * (level * nut * nut + 2.0 * nut * climb)
