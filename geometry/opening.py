"""What would open an empty stud window, or widen a narrow one: wrap over, saddles turned round, crests changed.

Every remedy is the same question asked again of a changed bridge, so each answers with the room that the best setting
of the studs would then leave.
"""

from dataclasses import dataclass, fields, replace

import numpy as np

from geometry.errors import as_not_negative, as_numbers, as_positive
from geometry.exits import exit_bounds
from geometry.window import stud_window, window_corners_mm

__all__ = ["Remedies", "TailSetting", "bridge_change_mm", "what_opens"]


@dataclass(frozen=True)
class TailSetting:
    """All that the window depends on, once for every remedy. Per-string fields broadcast as numpy does.

    Attributes
    ----------
    crest_mm, run_mm, front_fall_rad, edge_behind_mm, edge_below_mm, bar_radius_mm, hold_rad : numpy.ndarray
        Per string: as of `geometry.exits.exit_bounds`.
    break_low_rad, break_high_rad, clearance_low_mm : numpy.ndarray
        Per string, or one number: limits; NaN for none.
    lateral_mm, above_stud_mm : numpy.ndarray
        Per string: as of `geometry.window.stud_window`.
    span_mm, difference_most_mm, stud_low_mm, stud_high_mm : numpy.ndarray
        Per instrument: as of `geometry.window.stud_window`.

    Examples
    --------
    >>> TailSetting(crest_mm=[15.0, 15.0], run_mm=40.0, front_fall_rad=0.06, lateral_mm=[-20, 20], span_mm=80).run_mm
    array(40.)
    """

    crest_mm: np.ndarray
    run_mm: np.ndarray
    front_fall_rad: np.ndarray
    lateral_mm: np.ndarray
    span_mm: np.ndarray
    edge_behind_mm: np.ndarray = np.nan
    edge_below_mm: np.ndarray = np.nan
    bar_radius_mm: np.ndarray = 0.0
    hold_rad: np.ndarray = np.nan
    break_low_rad: np.ndarray = np.nan
    break_high_rad: np.ndarray = np.nan
    clearance_low_mm: np.ndarray = np.nan
    above_stud_mm: np.ndarray = 0.0
    difference_most_mm: np.ndarray = np.inf
    stud_low_mm: np.ndarray = 0.0
    stud_high_mm: np.ndarray = 60.0

    def __post_init__(self):
        for one in fields(self):
            strings = one.name in ("crest_mm", "lateral_mm")
            object.__setattr__(self, one.name, as_numbers(one.name, getattr(self, one.name), strings=strings))


@dataclass(frozen=True)
class Remedies:
    """Room that each remedy would leave; above 0 it opens the window. See `what_opens`.

    Attributes
    ----------
    room_mm : numpy.ndarray
        Per instrument: as it is [mm].
    other_stringing_mm : numpy.ndarray
        Per instrument: wrapped over instead of through, or the other way about; NaN if not given [mm].
    turned_mm : numpy.ndarray
        Per string: with that one saddle turned round; NaN where its facing is unknown [mm].
    all_turned_mm : numpy.ndarray
        Per instrument: with every saddle turned round that gives its own string more room so [mm].
    lowered_mm : numpy.ndarray
        Per string: with that one crest cut lower in its saddle, the edge staying [mm].
    bridge_mm : numpy.ndarray
        Per instrument: smallest change of both posts alike that opens it, up positive; 0 where it is open; NaN where
        none does [mm].
    """

    room_mm: np.ndarray
    other_stringing_mm: np.ndarray
    turned_mm: np.ndarray
    all_turned_mm: np.ndarray
    lowered_mm: np.ndarray
    bridge_mm: np.ndarray


PER_INSTRUMENT = ("span_mm", "difference_most_mm", "stud_low_mm", "stud_high_mm")
FAR_MM = 500.0  # studs without regard to their travel
NEAREST = 1e-3  # mm; a crest on the edge itself


def what_opens(setting, *, other=None, facing=np.nan, turn_shift_mm=2.0, cut_mm=1.0):
    """Try every remedy for an empty window.

    Turning a saddle that faces flat-to-front takes its crest `turn_shift_mm` back, where a shorter way to the edge lets
    the string fall more steeply before it touches; one that faces flat-to-rear goes as far forward. The octave has then
    to be set again, and what the screw takes back of that is lost here. Cutting a crest brings it nearer to the level
    of the edge. Raising or lowering both posts shifts every bound alike, so it helps only where the studs' own travel
    is what stops them. The strings' climb is held. Derived.

    Parameters
    ----------
    setting : TailSetting
        The bridge as it is.
    other : TailSetting, optional
        The same strung the other way: exit or bar, run and offset are its own.
    facing : array_like
        Per string: 1 flat to rear, −1 flat to front; NaN where unknown.
    turn_shift_mm : array_like
        Per instrument: how far a crest goes when its saddle is turned round [mm].
    cut_mm : array_like
        Per instrument: how deep one would cut, 0 or more [mm].

    Returns
    -------
    Remedies
        Room by remedy.

    Examples
    --------
    >>> tight = TailSetting(crest_mm=[15.0, 15.0], run_mm=40.0, front_fall_rad=0.06, lateral_mm=[-20, 20], span_mm=80,
    ...     edge_behind_mm=8.0, edge_below_mm=0.9, break_low_rad=0.12, clearance_low_mm=0.5)
    >>> found = what_opens(tight, facing=[-1, -1], turn_shift_mm=2.0, cut_mm=0.3)
    >>> float(found.room_mm.round(3)), found.turned_mm.round(3).tolist(), float(found.all_turned_mm.round(3))
    (-0.201, [-0.201, -0.201], 0.125)
    """
    facing = as_numbers("facing", facing)
    shift = np.where(np.isnan(facing), 0.0, -facing) * as_positive("turn_shift_mm", turn_shift_mm)[..., None]
    cut = as_not_negative("cut_mm", cut_mm)[..., None]
    each = np.eye(setting.crest_mm.shape[-1], dtype=bool)
    known = ~np.isnan(facing) & each.any(axis=0)
    one_by_one = _for_each(setting)
    turned = _room(_turned(one_by_one, np.where(each, shift[..., None, :], 0.0)))
    lowered = _room(_lowered(one_by_one, np.where(each, cut[..., None, :], 0.0)))
    gains = _own_room(_turned(setting, shift)) > _own_room(setting)
    room = _room(setting)
    return Remedies(
        room, np.full_like(room, np.nan) if other is None else _room(other), np.where(known, turned, np.nan),
        _room(_turned(setting, np.where(gains, shift, 0.0))), lowered, bridge_change_mm(setting),
    )  # fmt: skip


def _for_each(setting):
    """The same with an axis before that of the strings, along which one string after another is changed."""
    named = {one.name: getattr(setting, one.name) for one in fields(setting)}
    return replace(setting, **{
        name: value[..., None] if name in PER_INSTRUMENT else value[..., None, :] if value.ndim else value
        for name, value in named.items()
    })  # fmt: skip


def _turned(setting, shift):
    """Crests moved back (positive) or forward by `shift`."""
    run, behind = (np.maximum(one - shift, NEAREST) for one in (setting.run_mm, setting.edge_behind_mm))
    return replace(setting, run_mm=run, edge_behind_mm=behind)


def _lowered(setting, down):
    return replace(setting, crest_mm=setting.crest_mm - down, edge_below_mm=setting.edge_below_mm - down)


def _own_room(setting):
    """Room that each string's own bounds leave it."""
    bounds = _bounds(setting)
    return bounds.upper_mm - bounds.lower_mm


def _bounds(setting):
    names = (
        "run_mm", "front_fall_rad", "break_low_rad", "break_high_rad", "hold_rad", "edge_behind_mm", "edge_below_mm",
        "clearance_low_mm", "bar_radius_mm",
    )  # fmt: skip
    return exit_bounds(setting.crest_mm, **{name: getattr(setting, name) for name in names})


def _room(setting):
    bounds = _bounds(setting)
    return np.asarray(stud_window(
        bounds.lower_mm, bounds.upper_mm, bass_mm=np.nan, treble_mm=np.nan, lateral_mm=setting.lateral_mm,
        span_mm=setting.span_mm, above_stud_mm=setting.above_stud_mm, difference_most_mm=setting.difference_most_mm,
        stud_low_mm=setting.stud_low_mm, stud_high_mm=setting.stud_high_mm,
    ).room_mm)  # fmt: skip


def bridge_change_mm(setting):
    """Smallest change of both posts alike that opens an empty window, up positive.

    Raising the bridge by h raises every bound by h. Without regard to the studs' travel the window is a polygon; the
    point of it whose lower stud is highest says how far it lies below that travel, the one whose higher stud is lowest
    how far above. Both are corners, or places where an edge crosses equal heights. Derived.

    Parameters
    ----------
    setting : TailSetting
        The bridge as it is.

    Returns
    -------
    numpy.ndarray
        Per instrument: 0 where the window is open; NaN where no height of the bridge opens it [mm].

    Examples
    --------
    >>> setting = TailSetting(crest_mm=[12.0, 12.0], run_mm=40.0, front_fall_rad=0.06, lateral_mm=[-20, 20], span_mm=80,
    ...     break_low_rad=0.16, above_stud_mm=9.0)
    >>> float(bridge_change_mm(setting).round(3))
    1.013
    """
    bounds = _bounds(setting)
    corners = window_corners_mm(
        bounds.lower_mm, bounds.upper_mm, lateral_mm=setting.lateral_mm, span_mm=setting.span_mm,
        above_stud_mm=setting.above_stud_mm, difference_most_mm=setting.difference_most_mm,
        stud_low_mm=setting.stud_low_mm - FAR_MM, stud_high_mm=setting.stud_high_mm + FAR_MM,
    )  # fmt: skip
    places = np.concatenate([corners, _level_places(corners)], axis=-2)
    up = setting.stud_low_mm - np.fmax.reduce(places.min(axis=-1), axis=-1)
    down = np.fmin.reduce(places.max(axis=-1), axis=-1) - setting.stud_high_mm
    change = np.where(up > 0, up, np.where(down > 0, -down, np.nan))
    return np.where(_room(setting) >= 0, 0.0, change)


def _level_places(corners):
    """Where each edge crosses equal heights of both studs; NaN where it does not."""
    count = (~np.isnan(corners[..., 0])).sum(axis=-1)[..., None]
    index = np.arange(corners.shape[-2])
    following = np.where(index + 1 < count, index + 1, 0)
    ahead = np.take_along_axis(corners, following[..., None], axis=-2)
    tilt, tilt_ahead = corners[..., 1] - corners[..., 0], ahead[..., 1] - ahead[..., 0]
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        way = tilt / (tilt - tilt_ahead)
    way = np.where((way >= 0) & (way <= 1), way, np.nan)
    return corners + way[..., None] * (ahead - corners)
