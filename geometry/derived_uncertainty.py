"""Standard uncertainties of the worksheet's derived numbers in closed form.

All are ``u² = Σ (∂f/∂x)²·u_x²`` with exact derivatives, independent readings (GUM, JCGM 100:2008, 5.1.2).
`geometry.propagation.propagate` gives the same for any function, at many times the cost.
"""

from dataclasses import dataclass

import numpy as np

from geometry.errors import as_not_negative, as_numbers, as_positive
from geometry.frets import fret_fraction
from geometry.intonation import CENTS_PER_NEPER
from geometry.relief import hang_fraction

__all__ = ["TailStandard", "crest_standard_mm", "force_standard_n", "move_standard_mm", "nut_standard_mm",
           "tail_standard"]  # fmt: skip


@dataclass(frozen=True)
class TailStandard:
    """Standard uncertainties of a `geometry.tail.TailPath`; see `tail_standard`.

    Attributes
    ----------
    rear_fall_rad, break_rad, clearance_mm : numpy.ndarray
        Of the numbers of the same names [rad, rad, mm].
    """

    rear_fall_rad: np.ndarray
    break_rad: np.ndarray
    clearance_mm: np.ndarray


def nut_standard_mm(neck, *, gap_standard_mm, relief_standard_mm=0.0, held_fret=3, gap_fret=1):
    """Of a nut slot found by `geometry.neck.nut_from_gap_mm`.

    Derived (GUM, JCGM 100:2008, 5.1.2).

    Parameters
    ----------
    neck : geometry.neck.Neck
        The neck.
    gap_standard_mm : array_like
        Per string: of the gap [mm].
    relief_standard_mm : array_like
        Per instrument: of the relief [mm].
    held_fret, gap_fret : array_like
        Per instrument: where the string is held, and where the gap is read.

    Returns
    -------
    numpy.ndarray
        Per string [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> nut_standard_mm(neck, gap_standard_mm=[0.01]).round(4).tolist()
    [0.0155]
    """
    share, hang = _slot_shares(neck, held_fret, gap_fret)
    relief = hang * as_not_negative("relief_standard_mm", relief_standard_mm)[..., None]
    return np.hypot(as_not_negative("gap_standard_mm", gap_standard_mm), relief) / (1.0 - share)


def crest_standard_mm(
    neck, *, height_standard_mm, gap_standard_mm, relief_standard_mm=0.0, fret=12, held_fret=3, gap_fret=1,
    crest_x_mm=None,
):  # fmt: skip
    """Of a crest found by `geometry.neck.crest_from_height_mm` over a slot found by `geometry.neck.nut_from_gap_mm`.

    The relief enters both ways, through the crown under the string and through the slot; that is counted once.

    Derived (GUM, JCGM 100:2008, 5.1.2).

    Parameters
    ----------
    neck : geometry.neck.Neck
        The neck.
    height_standard_mm, gap_standard_mm : array_like
        Per string: of the height over the fret and of the nut gap [mm].
    relief_standard_mm : array_like
        Per instrument: of the relief [mm].
    fret : array_like
        Per instrument: where the height was read.
    held_fret, gap_fret : array_like
        Per instrument: where the string was held for the nut gap, and where that was read.
    crest_x_mm : array_like, optional
        Per string: crest's distance from the nut; the scale if not given [mm].

    Returns
    -------
    numpy.ndarray
        Per string [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> from geometry.neck import Neck
    >>> neck = Neck([628.0], [0.0], [0.0], 305.0, 305.0, 22)
    >>> crest_standard_mm(neck, height_standard_mm=[0.03], gap_standard_mm=[0.0]).tolist()
    [0.06]
    """
    crest_x = neck.scale_mm if crest_x_mm is None else as_positive("crest_x_mm", crest_x_mm, strings=True)
    way = neck.fret_x_mm(fret) / crest_x
    share, hang = _slot_shares(neck, held_fret, gap_fret)
    by_slot = (way - 1.0) / (1.0 - share)
    height = as_not_negative("height_standard_mm", height_standard_mm)
    gap = by_slot * as_not_negative("gap_standard_mm", gap_standard_mm)
    under = hang_fraction(fret, end_fret=neck.end_fret)[..., None]
    relief = (by_slot * hang - under) * as_not_negative("relief_standard_mm", relief_standard_mm)[..., None]
    return np.sqrt(height * height + gap * gap + relief * relief) / way


def _slot_shares(neck, held_fret, gap_fret):
    """Gap's fret on the way to the held one, and what relief does to ``(1 − share)`` times the slot."""
    share = fret_fraction(gap_fret) / fret_fraction(held_fret)
    hang = hang_fraction(held_fret, end_fret=neck.end_fret) * share - hang_fraction(gap_fret, end_fret=neck.end_fret)
    return share[..., None], hang[..., None]


def tail_standard(
    path, *, drop_mm, run_mm, edge_behind_mm=np.nan, edge_below_mm=np.nan, bar_radius_mm=0.0, drop_standard_mm=0.0,
    run_standard_mm=0.0, behind_standard_mm=0.0, below_standard_mm=0.0, front_standard_rad=0.0,
):  # fmt: skip
    """Of a string's run behind its crest. Elementwise.

    Line to the tail: ``dρ = (cos ρ·dH − sin ρ·dd)/(H·sin ρ + d·cos ρ)``; a string on the edge has
    ``ρ = atan(below/behind)``; clearance ``dc = d below − tan ρ·d behind − behind·dρ/cos² ρ``.

    Parameters
    ----------
    path : geometry.tail.TailPath
        What `geometry.tail.tail_path` found with the same arguments.
    drop_mm : array_like
        Crest less exit, or less the bar's centre [mm].
    run_mm : array_like
        Level distance from the crest back to that point, above 0 [mm].
    edge_behind_mm, edge_below_mm : array_like
        The bridge's rear edge behind and below the crest [mm]; NaN where unknown.
    bar_radius_mm : array_like
        Radius of the wrap; 0 for a plain exit [mm].
    drop_standard_mm, run_standard_mm, behind_standard_mm, below_standard_mm : array_like
        Of the lengths of those names [mm].
    front_standard_rad : array_like
        Of the front fall [rad].

    Returns
    -------
    TailStandard
        NaN where the number itself is NaN.

    Examples
    --------
    >>> from geometry.tail import tail_path
    >>> path = tail_path(15.0, 9.0, run_mm=40.0, front_fall_rad=0.06, edge_behind_mm=6.0, edge_below_mm=1.5)
    >>> spread = tail_standard(path, drop_mm=6.0, run_mm=40.0, edge_behind_mm=6.0, edge_below_mm=1.5,
    ...                        drop_standard_mm=0.1, front_standard_rad=0.001)
    >>> float(np.degrees(spread.break_rad).round(3)), float(spread.clearance_mm.round(4))
    (0.151, 0.015)
    """
    drop, run = as_numbers("drop_mm", drop_mm), as_positive("run_mm", run_mm)
    behind, below = as_positive("edge_behind_mm", edge_behind_mm), as_numbers("edge_below_mm", edge_below_mm)
    u_drop = as_not_negative("drop_standard_mm", drop_standard_mm)
    u_run = as_not_negative("run_standard_mm", run_standard_mm)
    u_behind = as_not_negative("behind_standard_mm", behind_standard_mm)
    u_below = as_not_negative("below_standard_mm", below_standard_mm)
    # The straight line, edge or no edge, over a bar of radius r: ``H·cos ρ − d·sin ρ = r``, its length t from
    # ``t = H·sin ρ + d·cos ρ = sqrt(H² + d² − r²)``.
    radius = as_numbers("bar_radius_mm", bar_radius_mm)
    squared = drop * drop + run * run
    length = np.sqrt(np.where(squared > radius * radius, squared - radius * radius, np.nan))
    sine, cosine = (drop * length - run * radius) / squared, (run * length + drop * radius) / squared
    u_straight = np.sqrt((cosine * u_drop) ** 2 + (sine * u_run) ** 2) / length
    u_edge = np.sqrt((behind * u_below) ** 2 + (below * u_behind) ** 2) / (behind * behind + below * below)
    rear = np.where(path.on_edge, u_edge, u_straight)
    lean = behind * u_straight / (cosine * cosine)
    clearance = np.sqrt(u_below**2 + (sine / cosine * u_behind) ** 2 + lean * lean)
    return TailStandard(
        rear + 0.0 * path.rear_fall_rad, np.hypot(rear, as_not_negative("front_standard_rad", front_standard_rad)),
        clearance + 0.0 * path.clearance_mm,
    )  # fmt: skip


def force_standard_n(force, *, tension_n, break_rad, tension_standard_n=0.0, break_standard_rad=0.0):
    """Of the resultant force on a saddle, `geometry.force.saddle_force`. Elementwise.

    Derived (GUM, JCGM 100:2008, 5.1.2).

    Parameters
    ----------
    force : geometry.force.SaddleForce
        The force.
    tension_n : array_like
        Tension, above 0 [N].
    break_rad : array_like
        Break angle [rad].
    tension_standard_n, break_standard_rad : array_like
        Of the two [N, rad].

    Returns
    -------
    numpy.ndarray or float
        [N]; NaN where an argument is NaN.

    Examples
    --------
    >>> from geometry.force import saddle_force
    >>> force = saddle_force(70.0, front_fall_rad=0.05, rear_fall_rad=0.15)
    >>> float(force_standard_n(force, tension_n=70.0, break_rad=0.2, break_standard_rad=0.005).round(3))
    0.348
    """
    tension = as_positive("tension_n", tension_n)
    by_tension = force.resultant_n / tension * as_not_negative("tension_standard_n", tension_standard_n)
    half = 0.5 * as_numbers("break_rad", break_rad)
    return np.hypot(by_tension, tension * np.cos(half) * as_not_negative("break_standard_rad", break_standard_rad))


def move_standard_mm(interval_cents, standard_cents, *, open_mm, fret=12):
    """Of a crest's move, `geometry.intonation.intonation_move_mm`, from the tuner's uncertainty. Elementwise.

    ``∂δ/∂a = ℓ·(1 − ℓ/L)/(1 − a·ℓ/L)²`` with ``a = 2^(c/1200)``.

    Parameters
    ----------
    interval_cents, standard_cents : array_like
        Reading and its standard uncertainty [cents].
    open_mm : array_like
        Open speaking length, above 0 [mm].
    fret : array_like
        Where it was fretted, above 0.

    Returns
    -------
    numpy.ndarray or float
        [mm]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(move_standard_mm(2.0, 0.3, open_mm=628.0).round(3))
    0.109
    """
    share = np.exp2(as_positive("fret", fret) / -12.0)
    ratio = np.exp(as_numbers("interval_cents", interval_cents) / CENTS_PER_NEPER)
    per_ratio = as_positive("open_mm", open_mm) * share * (1.0 - share) / (1.0 - ratio * share) ** 2
    return per_ratio * ratio / CENTS_PER_NEPER * as_not_negative("standard_cents", standard_cents)
