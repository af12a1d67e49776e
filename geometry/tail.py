"""The string behind its crest: fall, break angle, clearance over the bridge's rear edge, and the second bend on it.

Side view in the body frame, every function elementwise: a per-instrument value beside per-string ones needs an axis
of length 1 for the strings (``value[..., None]``).
"""

from dataclasses import dataclass

import numpy as np

from geometry.errors import as_not_negative, as_numbers, as_positive, as_within

__all__ = ["TailPath", "exit_height_mm", "front_fall_rad", "rear_fall_rad", "tail_path"]

HALF_TURN = np.pi / 2.0


@dataclass(frozen=True)
class TailPath:
    """How a string runs from its crest to the tail; see `tail_path`.

    Attributes
    ----------
    rear_fall_rad : numpy.ndarray
        Fall behind the crest as the string runs: to the edge where it lies on it, else to the tail [rad].
    break_rad : numpy.ndarray
        Bend over the crest: front fall plus rear fall [rad].
    clearance_mm : numpy.ndarray
        Straight line to the tail over the bridge's rear edge, upright; below 0 the string lies on the edge. NaN where
        the edge is unknown or not between crest and exit [mm].
    on_edge : numpy.ndarray
        Whether the string lies on the edge; False where the clearance is NaN.
    edge_bend_rad : numpy.ndarray
        Second bend, on the edge; 0 where the string clears it [rad].
    short_length_mm : numpy.ndarray
        Piece of string between crest and edge; NaN where it clears the edge [mm].
    exit_behind_mm, exit_mm : numpy.ndarray
        Where the string leaves the tail: behind the crest, and its height above the top [mm].
    """

    rear_fall_rad: np.ndarray
    break_rad: np.ndarray
    clearance_mm: np.ndarray
    on_edge: np.ndarray
    edge_bend_rad: np.ndarray
    short_length_mm: np.ndarray
    exit_behind_mm: np.ndarray
    exit_mm: np.ndarray


def exit_height_mm(bass_mm, treble_mm, *, lateral_mm, span_mm, above_stud_mm=0.0):
    """Height at which each string leaves a tailpiece on two studs.

    ``offset + h_B·(1/2 − y/P) + h_T·(1/2 + y/P)``. Source: straight line between the studs.

    Parameters
    ----------
    bass_mm, treble_mm : array_like
        Per instrument: stud readings above the top [mm].
    lateral_mm : array_like
        Per string, shape (..., strings): position at the tailpiece [mm].
    span_mm : array_like
        Per instrument: distance between the studs, above 0 [mm].
    above_stud_mm : array_like
        Per string, or one number: exit, or the bar's centre, above what the stud reading is taken to [mm].

    Returns
    -------
    numpy.ndarray
        Per string [mm]; NaN where the string or a stud's reading is missing.

    Examples
    --------
    >>> exit_height_mm(5.0, 7.0, lateral_mm=[-20, 20], span_mm=80, above_stud_mm=4.0).tolist()
    [9.5, 10.5]
    """
    bass, treble = as_numbers("bass_mm", bass_mm), as_numbers("treble_mm", treble_mm)
    across = as_numbers("lateral_mm", lateral_mm, strings=True) / as_positive("span_mm", span_mm)[..., None]
    level = 0.5 * (bass + treble)[..., None] + (treble - bass)[..., None] * across
    return level + as_numbers("above_stud_mm", above_stud_mm)


def front_fall_rad(neck_tilt_rad, *, nut_mm, crest_mm, crest_x_mm):
    """Fall of a string towards the nut, against the top. Elementwise.

    The fret plane's tilt plus the string's own climb from slot to crest, ``φ = tilt + atan((z_c − z_n)/x_c)``. Derived.

    Parameters
    ----------
    neck_tilt_rad : array_like
        Fret plane against the top, positive where it falls towards the nut [rad].
    nut_mm, crest_mm : array_like
        Slot's bottom and crest in the fret frame [mm].
    crest_x_mm : array_like
        Crest's distance from the nut, above 0 [mm].

    Returns
    -------
    numpy.ndarray or float
        [rad]; NaN where an argument is NaN.

    Examples
    --------
    >>> float(np.degrees(front_fall_rad(np.radians(3.0), nut_mm=0.4, crest_mm=4.0, crest_x_mm=628.0)).round(3))
    3.328
    """
    climb = as_numbers("crest_mm", crest_mm) - as_numbers("nut_mm", nut_mm)
    return as_within("neck_tilt_rad", neck_tilt_rad, -HALF_TURN, HALF_TURN) + np.arctan2(
        climb, as_positive("crest_x_mm", crest_x_mm)
    )


def rear_fall_rad(drop_mm, *, run_mm, bar_radius_mm=0.0):
    """Fall of the straight line from a crest to the tail. Elementwise.

    To a hole: ``ρ = atan(H/d)``. Over a round bar, at whose top the line is tangent:
    ``ρ = atan(H/d) − asin(r/sqrt(H² + d²))``, H and d being measured to the bar's centre; computed as
    ``atan2(H·t − d·r, d·t + H·r)`` with the line's length ``t = sqrt(H² + d² − r²)``. Derived.

    Parameters
    ----------
    drop_mm : array_like
        Crest less exit, or less the bar's centre [mm].
    run_mm : array_like
        Level distance from the crest back to the exit, or to the bar's centre, above 0 [mm].
    bar_radius_mm : array_like
        Radius at which the string's middle wraps over the bar; 0 for a plain exit [mm].

    Returns
    -------
    numpy.ndarray or float
        Positive where the string falls behind the crest [rad]; NaN where an argument is NaN or the crest is in the bar.

    Examples
    --------
    >>> np.degrees(rear_fall_rad([6.0, 6.0], run_mm=40.0, bar_radius_mm=[0.0, 6.0])).round(3).tolist()
    [8.531, 0.0]
    """
    drop, run = as_numbers("drop_mm", drop_mm), as_positive("run_mm", run_mm)
    radius = as_not_negative("bar_radius_mm", bar_radius_mm)
    squared = drop * drop + run * run - radius * radius
    length = np.sqrt(np.where(squared > 0, squared, np.nan))
    return np.arctan2(drop * length - run * radius, run * length + drop * radius)


def tail_path(
    crest_mm, exit_mm, *, run_mm, front_fall_rad, edge_behind_mm=np.nan, edge_below_mm=np.nan, bar_radius_mm=0.0
):
    """How a string runs behind its crest. Elementwise.

    Clearance ``c = edge_below − edge_behind·tan ρ``, the same as crest less the line's fall at the edge less the edge's
    height. Where it is below 0 the string bends at the crest towards the edge, ``atan(edge_below/edge_behind)``, and
    again on the edge towards the tail. Derived.

    Parameters
    ----------
    crest_mm : array_like
        Crest above the top [mm].
    exit_mm : array_like
        Where the string leaves the tail, or the bar's centre where it wraps, above the top [mm].
    run_mm : array_like
        Level distance from the crest back to that point, above 0 [mm].
    front_fall_rad : array_like
        Fall towards the nut [rad].
    edge_behind_mm, edge_below_mm : array_like
        The bridge's rear edge: behind the crest (above 0) and below it [mm]; NaN where unknown.
    bar_radius_mm : array_like
        Radius at which the string wraps over a round bar; 0 for a plain exit [mm].

    Returns
    -------
    TailPath
        Falls, bends, clearance and exit; NaN in what depends on a missing argument.

    Examples
    --------
    >>> path = tail_path(15.0, [9.0, 1.0], run_mm=40.0, front_fall_rad=0.06, edge_behind_mm=6.0, edge_below_mm=1.5)
    >>> np.degrees(path.break_rad).round(2).tolist(), path.clearance_mm.round(3).tolist(), path.on_edge.tolist()
    ([11.97, 17.47], [0.6, -0.6], [False, True])
    >>> np.degrees(path.edge_bend_rad).round(2).tolist(), path.short_length_mm.round(3).tolist()
    ([0.0, 6.15], [nan, 6.185])
    """
    crest, exit_, run = as_numbers("crest_mm", crest_mm), as_numbers("exit_mm", exit_mm), as_positive("run_mm", run_mm)
    behind, below = as_positive("edge_behind_mm", edge_behind_mm), as_numbers("edge_below_mm", edge_below_mm)
    radius = as_numbers("bar_radius_mm", bar_radius_mm)
    drop = crest - exit_
    straight = rear_fall_rad(drop, run_mm=run, bar_radius_mm=radius)
    between = run + radius * np.sin(straight) > behind
    clearance = np.where(between, below - behind * np.tan(straight), np.nan)
    on_edge = clearance < 0
    to_edge = np.arctan2(below, behind)
    beyond = rear_fall_rad(drop - below, run_mm=np.where(between, run - behind, np.nan), bar_radius_mm=radius)
    rear = np.where(on_edge, to_edge, straight)
    last = np.where(on_edge, beyond, straight)
    short = np.where(on_edge, np.sqrt(behind * behind + below * below), np.nan)
    return TailPath(
        rear, as_numbers("front_fall_rad", front_fall_rad) + rear, clearance[()], on_edge[()],
        np.where(on_edge, beyond - to_edge, 0.0 * straight), short,
        run + radius * np.sin(last), exit_ + radius * np.cos(last),
    )  # fmt: skip
