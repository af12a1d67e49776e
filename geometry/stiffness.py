"""What bending stiffness does to a string's frequencies. All elementwise.

One number carries it: ``ε = sqrt(E·I/(T·L²))``, the length ``sqrt(E·I/T)`` over which a string bends near a stiff end,
measured in string lengths. The coefficient of inharmonicity is ``B = π²·ε²``; some papers call ε itself B.
"""

import numpy as np

from geometry.errors import as_not_negative, as_positive, as_within

__all__ = [
    "clamp_from_spring", "frequency_factor", "inharmonicity", "partial_hz", "partial_stretch_cents",
    "stiffness_epsilon",
]  # fmt: skip

PI_SQUARED = np.pi * np.pi


def stiffness_epsilon(bending_n_m2, *, tension_n, length_mm):
    """Stiffness of a string relative to its tension and length, ``ε = sqrt(E·I/(T·L²))``. Elementwise.

    Source: Anderson & Beausoleil, J. Acoust. Soc. Am. 156 (2024) 683, who write it ``sqrt(π·r⁴·E/(4·T·L²))``.

    Parameters
    ----------
    bending_n_m2 : array_like
        Bending stiffness E·I, 0 or more: `geometry.strings.bending_stiffness_n_m2` [N·m²].
    tension_n : array_like
        Tension, above 0 [N].
    length_mm : array_like
        Speaking length, above 0 [mm].

    Returns
    -------
    numpy.ndarray or float
        0 for a perfectly limp string, some thousandths for real ones; NaN where an argument is NaN.

    Examples
    --------
    >>> from geometry.strings import bending_stiffness_n_m2
    >>> float(stiffness_epsilon(bending_stiffness_n_m2(1.0, young_pa=5e9), tension_n=60, length_mm=650).round(7))
    0.0031116
    """
    bending, tension = as_not_negative("bending_n_m2", bending_n_m2), as_positive("tension_n", tension_n)
    return np.sqrt(bending / tension) / (1e-3 * as_positive("length_mm", length_mm))


def inharmonicity(epsilon):
    """Coefficient of inharmonicity ``B = π²·ε² = π³·E·d⁴/(64·T·L²)``. Elementwise.

    Source: H. Fletcher, J. Acoust. Soc. Am. 36 (1964) 203, as quoted by Fletcher & Rossing, The Physics of Musical
    Instruments, section 2.18.

    Parameters
    ----------
    epsilon : array_like
        From `stiffness_epsilon`, 0 or more.

    Returns
    -------
    numpy.ndarray or float
        B; NaN where the argument is NaN.

    Examples
    --------
    >>> from geometry.strings import bending_stiffness_n_m2
    >>> steel = bending_stiffness_n_m2(0.254, young_pa=200e9)
    >>> f"{inharmonicity(stiffness_epsilon(steel, tension_n=72, length_mm=648)):.5e}"
    '1.33399e-05'
    """
    stiffness = as_not_negative("epsilon", epsilon)
    return PI_SQUARED * stiffness * stiffness


def partial_hz(partial, *, fundamental_hz, inharmonicity):
    """Frequency of a partial, ``f_k = k·f·sqrt(1 + B·k²)``. Elementwise.

    Source: H. Fletcher (1964), as `inharmonicity`.

    Parameters
    ----------
    partial : array_like
        Number of the partial, above 0.
    fundamental_hz : array_like
        Frequency of the same string without stiffness, above 0: the first partial lies at ``f·sqrt(1 + B)`` [Hz].
    inharmonicity : array_like
        B, 0 or more.

    Returns
    -------
    numpy.ndarray or float
        [Hz]; NaN where an argument is NaN.

    Examples
    --------
    >>> partial_hz([1, 2], fundamental_hz=100.0, inharmonicity=0.0).tolist()
    [100.0, 200.0]
    """
    number, stiff = as_positive("partial", partial), as_not_negative("inharmonicity", inharmonicity)
    return number * as_positive("fundamental_hz", fundamental_hz) * np.sqrt(1.0 + stiff * number * number)


def partial_stretch_cents(partial, *, inharmonicity):
    """How sharp a partial is against a whole multiple of the first, ``600·log2((1 + B·k²)/(1 + B))``. Elementwise.

    A reading against the harmonic over fret 12 is taken against partial 2, so it is this much flatter than one against
    the open string's own octave. Derived from `partial_hz`.

    Parameters
    ----------
    partial : array_like
        Number of the partial, above 0.
    inharmonicity : array_like
        B, 0 or more.

    Returns
    -------
    numpy.ndarray or float
        [cents]; NaN where an argument is NaN.

    Examples
    --------
    >>> partial_stretch_cents([1, 2, 10], inharmonicity=1.24e-4).round(3).tolist()
    [0.0, 0.322, 10.56]
    """
    number, stiff = as_positive("partial", partial), as_not_negative("inharmonicity", inharmonicity)
    return 600.0 / np.log(2.0) * (np.log1p(stiff * number * number) - np.log1p(stiff))


def frequency_factor(epsilon, *, clamped_ends=1.0, partial=1.0):
    """How much stiffness raises a partial, for ends anywhere between pinned and clamped. Elementwise.

    ``1 + e·ε + (e² + π²·k²/2)·ε²``, e being the number of clamped ends. At e = 0 (both pinned) it is Fletcher's
    ``sqrt(1 + π²·ε²·k²)``, at 1 (one pinned, one clamped) the expression of Anderson & Beausoleil (2024, appendix), at
    2 (both clamped) Morse's, Vibration and Sound (1936), as quoted there: each to second order in ε. Between them it
    is derived: an end of clamp c shortens the string by ``c·ε·L`` (see `clamp_from_spring`). What is left out is of
    third order in ε.

    Parameters
    ----------
    epsilon : array_like
        From `stiffness_epsilon`, 0 or more.
    clamped_ends : array_like
        Clamp of both ends together, 0 to 2.
    partial : array_like
        Number of the partial, above 0.

    Returns
    -------
    numpy.ndarray or float
        1 or more; NaN where an argument is NaN.

    Examples
    --------
    >>> frequency_factor(0.003, clamped_ends=[0.0, 1.0, 2.0]).round(6).tolist()
    [1.000044, 1.003053, 1.00608]
    """
    stiff, ends = as_not_negative("epsilon", epsilon), as_within("clamped_ends", clamped_ends, 0.0, 2.0)
    number = as_positive("partial", partial)
    return 1.0 + stiff * (ends + (ends * ends + 0.5 * PI_SQUARED * number * number) * stiff)


def clamp_from_spring(spring_n_m, *, tension_n, bending_n_m2):
    """Clamp of an end that turns against a spring, ``c = k/(k + sqrt(T·E·I))``. Elementwise.

    Near the end the string runs as ``s·(x − δ + δ·exp(−x/λ))``, ``λ = sqrt(E·I/T)``. Its moment there, ``E·I·s·δ/λ²``,
    equals the spring's, ``k·s·(1 − δ/λ)``, which gives ``δ = c·λ``: so much shorter does the string seem. Derived.

    Parameters
    ----------
    spring_n_m : array_like
        Moment per radian with which the end resists being turned, 0 or more; infinite for clamped [N·m].
    tension_n : array_like
        Tension, above 0 [N].
    bending_n_m2 : array_like
        Bending stiffness E·I, above 0 [N·m²].

    Returns
    -------
    numpy.ndarray or float
        0 for pinned to 1 for clamped; NaN where an argument is NaN.

    Examples
    --------
    >>> clamp_from_spring([0.0, 0.06, float("inf")], tension_n=72.0, bending_n_m2=5e-5).round(9).tolist()
    [0.0, 0.5, 1.0]
    """
    spring = as_not_negative("spring_n_m", spring_n_m)
    own = np.sqrt(as_positive("tension_n", tension_n) * as_positive("bending_n_m2", bending_n_m2))
    return (1.0 - own / (own + spring))[()]
