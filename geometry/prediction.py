"""Where fretted notes will stand before any reading: the exact sum of the published model, over all frets and strings.

Fretting stretches the string (the path over nut, finger, fret and crest against the open path), stretching raises its
tension and thins it, and a stiff string sharpens as it gets shorter. Model: M. B. Anderson and R. G. Beausoleil,
"Classical guitar intonation and compensation: The well-tempered guitar", J. Acoust. Soc. Am. 156 (2024) 683, in its
exact form. Beyond the paper, derived here: crowns anywhere (relief, arch, high frets), a finger that presses harder,
ends between pinned and clamped, and string beyond nut and saddle that takes up part of the stretch.

The paper's model was made for nylon. For steel the ends and the string beyond them matter more and are uncertain:
`geometry.setbacks.setback_range` shows how much, `geometry.fitting.fit_fretting` narrows it by finished instruments.
"""

from dataclasses import dataclass

import numpy as np

from geometry.errors import GeometryError, as_positive
from geometry.fretting import Fretting
from geometry.stiffness import frequency_factor

__all__ = ["CentsMap", "fret_numbers", "fretted_cents"]

CENTS_PER_NEPER = 1200.0 / np.log(2.0)


@dataclass(frozen=True)
class CentsMap:
    """How sharp fretted notes are against equal temperament over the open string; see `fretted_cents`.

    Attributes
    ----------
    cents : numpy.ndarray
        Shape (..., frets, strings): sum of the four parts [cents].
    length_cents, density_cents, tension_cents, stiffness_cents : numpy.ndarray
        The parts: speaking length, thinning, tension, bending stiffness [cents].
    strain : numpy.ndarray
        Relative lengthening of the string by fretting.
    """

    cents: np.ndarray
    length_cents: np.ndarray
    density_cents: np.ndarray
    tension_cents: np.ndarray
    stiffness_cents: np.ndarray
    strain: np.ndarray


def fret_numbers(frets):
    """Fret numbers from a count or a list.

    Parameters
    ----------
    frets : int or array_like
        How many frets from the first on, or fret numbers of one axis, each above 0.

    Returns
    -------
    numpy.ndarray
        Shape (frets,).

    Examples
    --------
    >>> fret_numbers(3).tolist(), fret_numbers([1, 12]).tolist()
    ([1.0, 2.0, 3.0], [1.0, 12.0])
    """
    if isinstance(frets, (int, np.integer)) and frets > 0:
        return np.arange(1.0, frets + 1.0)
    numbers = as_positive("frets", frets)
    if numbers.ndim != 1 or not numbers.size:
        raise GeometryError("frets", frets, "a count, or fret numbers of one axis")
    return numbers


def fretted_cents(elastic, placement, *, fretting=None, frets=12):
    """Cents of every string fretted at every fret, against equal temperament over its own open string.

    ``Δν = 1200·log2(L₀/(γ·L_n)) + 600·log2(1 + Q) + 600·log2(1 + κ·Q) + 1200·log2(F(ε_n)/F(ε₀))``, with
    ``γ = 2^(n/12)``, L₀ the open and L_n the fretted speaking length, Q the strain by fretting, F of
    `geometry.stiffness.frequency_factor`, ``ε₀ = λ/L₀`` and ``ε_n = λ/(L_n·sqrt(1 + κ·Q))``. Source and what is added
    to it: head of this file.

    Parameters
    ----------
    elastic : geometry.fretting.Elastic
        The strings.
    placement : geometry.fretting.Placement
        Nut, frets and crests.
    fretting : geometry.fretting.Fretting, optional
        Finger and ends; the defaults if not given.
    frets : int or array_like
        How many frets from the first on, or fret numbers of one axis.

    Returns
    -------
    CentsMap
        Shape (..., frets, strings); NaN where a string or a crown is missing.

    Examples
    --------
    >>> from geometry.fretting import Placement, elastic_from_sensitivity
    >>> found = fretted_cents(elastic_from_sensitivity(25.0, radius_mm=0.43), Placement(650, nut_mm=1, crest_mm=5),
    ...                       fretting=Fretting(press_mm=0), frets=[1, 12])
    >>> found.cents[:, 0].round(4).tolist(), found.tension_cents[:, 0].round(4).tolist()
    ([1.7272, 5.9792], [1.4772, 1.8786])
    """
    finger = Fretting() if fretting is None else fretting
    number = fret_numbers(frets)[:, None]
    path = _Path(placement, finger, number)
    ratio, bend = elastic.stretch_ratio[..., None, :], elastic.bend_length_mm[..., None, :]
    raised = np.log1p(ratio * path.strain)
    length = CENTS_PER_NEPER * (path.open_over_nominal - np.log(path.speaking / path.nominal))
    stiff = bend / (path.speaking * np.exp(0.5 * raised))
    stiffness = CENTS_PER_NEPER * np.log(
        frequency_factor(stiff, clamped_ends=(finger.saddle_clamp + finger.fret_clamp)[..., None, :])
        / frequency_factor(bend / path.open, clamped_ends=(finger.saddle_clamp + finger.nut_clamp)[..., None, :])
    )
    density, tension = 0.5 * CENTS_PER_NEPER * np.log1p(path.strain), 0.5 * CENTS_PER_NEPER * raised
    return CentsMap(length + density + tension + stiffness, *np.broadcast_arrays(
        length, density, tension, stiffness, path.strain
    ))  # fmt: skip


class _Path:
    """Lengths of the open and of the fretted string, shape (..., frets, strings)."""

    def __init__(self, placement, finger, number):
        scale, back, ahead = (
            one[..., None, :] for one in (placement.scale_mm, placement.saddle_back_mm, placement.nut_back_mm)
        )
        crown = placement.crown_mm if placement.crown_mm.ndim > 1 else placement.crown_mm[..., None, :]
        if crown.shape[-2] not in (1, len(number)):
            raise GeometryError("placement.crown_mm", crown.shape, f"for each of {len(number)} frets, or one for all")
        self.nominal = scale * np.exp2(-number / 12.0)
        whole, run = scale + back + ahead, self.nominal + back
        rest = scale - self.nominal + ahead
        for name, part in (("saddle_back_mm", run), ("nut_back_mm", rest)):
            if (part <= 0).any():
                said = "such that every fret is on the string"
                raise GeometryError(f"placement.{name}", getattr(placement, name), said)
        climb, over = (placement.crest_mm - placement.nut_mm)[..., None, :], placement.crest_mm[..., None, :] - crown
        self.open = np.hypot(whole, climb)
        self.speaking = np.hypot(run, over)
        # The finger is never further back than the fret before; there it would be on the next crown.
        press = np.minimum(finger.press_mm[..., None, :], scale * np.exp2((1.0 - number) / 12.0) - self.nominal)
        depth = over * press / run + finger.press_depth_mm[..., None, :]
        to_nut = rest - press
        if (to_nut <= 0).any():
            raise GeometryError("fretting.press_mm", float(np.nanmax(press)), "short of the nut")
        rise = placement.nut_mm[..., None, :] - crown + depth
        # Each piece less its level length, without cancellation: the level lengths of both paths are the same.
        longer = _excess(run, over) + _excess(press, depth) + _excess(to_nut, rise) - _excess(whole, climb)
        self.strain = longer / (self.open + (finger.beyond_nut_mm + finger.beyond_saddle_mm)[..., None, :])
        self.open_over_nominal = np.log(self.open / scale)


def _excess(level, rise):
    """``sqrt(level² + rise²) − level`` without cancellation."""
    slant = np.hypot(level, rise) + level
    return rise * rise / np.where(slant == 0, 1.0, slant)
