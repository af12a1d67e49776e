"""Where the studs may stand, what limits them, and what would open a window that is empty."""

from dataclasses import dataclass, replace

import numpy as np

from geometry.exits import ExitBounds, exit_bounds
from geometry.force import holding_break_rad, pluck_side_force_n
from geometry.opening import TailSetting
from geometry.opening import what_opens as geometry_opens
from geometry.window import StudWindow, stud_window, window_corners_mm
from shop.worksheets.model.lacking import Lacking, believed
from shop.worksheets.model.octave import facings
from shop.worksheets.model.tail import WRAPPED, tail_of
from shop.worksheets.together import alone, ask, asking

# A strong pluck and where, as a share of the open length from the saddle. Common practice, no source.
PLUCK_N, PLUCK_AT = 4.0, 0.15
LOWER_BY = 1.0  # mm; a deeper cut is another saddle
STUD_LOW, STUD_HIGH = 0.0, 40.0  # the tailpiece down on the top, and as far up as a stud holds; common practice
INSIDE = 0.25  # mm: as far inside the window as is advised, where it is wide enough


@dataclass(frozen=True)
class Window:
    """The window, each string's bounds, and the advised move of the studs, mm, up positive (0, 0 when inside).

    `advised` is None where no setting keeps every bound. `equal` says that both studs are turned alike.
    """

    found: StudWindow
    bounds: ExitBounds
    advised: tuple | None
    equal: bool
    difference_most: float


@asking
def bounds_of(sheet, layout, tail, load):
    """How high and how low each string may leave the tail, by the profile's angle and clearance."""
    low, high = sheet.target(sheet.family.angle_target)
    each = np.zeros(len(tail.crest))
    bounds = yield ask(
        exit_bounds, tail.crest, run_mm=tail.run, front_fall_rad=tail.front_fall,
        break_low_rad=each + np.radians(_or(low, np.nan)), break_high_rad=each + np.radians(_or(high, np.nan)),
        hold_rad=each + (yield from _hold(sheet, layout, load)), edge_behind_mm=tail.edge_behind,
        edge_below_mm=tail.edge_below, bar_radius_mm=tail.bar_radius,
        clearance_low_mm=each + _or(sheet.target("edge_clearance")[0], np.nan),
    )  # fmt: skip
    if not (np.isfinite(bounds.lower_mm) | np.isfinite(bounds.upper_mm)).any():
        raise Lacking("The profile has no targets for break angle and edge clearance.")
    return bounds


def _or(value, otherwise):
    return otherwise if value is None else value


@asking
def window_of(sheet, tail, bounds):
    if tail.studs is None:
        raise Lacking("This tail does not stand on studs: there is nothing to turn.")
    difference = _or(sheet.target("stud_difference")[1], np.inf)
    found = yield from _solved(bounds, tail, difference)
    advised, equal = yield from _advised(bounds, tail, found, difference)
    return Window(found, bounds, advised, equal, difference)


def _hold(sheet, layout, load):
    """Least break angle at which each groove holds its string against a strong pluck; NaN where it is not known."""
    groove = believed(sheet, "groove_half_angle_deg")
    if load is None or groove is None:
        return np.nan
    each = np.ones(len(layout.scale))
    side = yield ask(
        pluck_side_force_n, PLUCK_N * each, from_saddle_mm=PLUCK_AT * layout.scale, length_mm=layout.scale
    )  # fmt: skip
    held = yield ask(
        holding_break_rad, side, tension_n=load.tension, half_angle_rad=each * np.radians(groove)
    )  # fmt: skip
    return np.where(np.isfinite(held), held, np.nan)


def _solved(bounds, tail, difference, *, guard=0.0):
    return (yield ask(
        stud_window, bounds.lower_mm + guard, bounds.upper_mm - guard, bass_mm=tail.studs[0],
        treble_mm=tail.studs[1], **_studs(tail, difference),
    ))  # fmt: skip


def _studs(tail, difference):
    return {
        "lateral_mm": tail.lateral, "span_mm": tail.stud_span,
        "above_stud_mm": np.full(len(tail.lateral), tail.above_stud), "difference_most_mm": difference,
        "stud_low_mm": STUD_LOW, "stud_high_mm": STUD_HIGH,
    }  # fmt: skip


def corners_of(window, tail):
    """The window's corners, shape (corners, 2): (bass stud, treble stud), anticlockwise; none when it is empty."""
    corners = window_corners_mm(
        window.bounds.lower_mm, window.bounds.upper_mm, **_studs(tail, window.difference_most)
    )
    return corners[np.isfinite(corners).all(axis=-1)]


def _advised(bounds, tail, found, difference):
    """Both studs by equal amounts where that does it, else the smallest move; to a little inside the edge."""
    if bool(found.empty):
        return None, False
    if bool(found.inside):
        return (0.0, 0.0), True
    guard = min(INSIDE, 0.5 * float(found.room_mm))
    equal = _equal_move(found, tail, guard)
    if equal is not None:
        return (equal, equal), True
    inner = yield from _solved(bounds, tail, difference, guard=guard)
    move = inner if np.isfinite(inner.move_bass_mm) else found
    return (float(move.move_bass_mm), float(move.move_treble_mm)), False


def _equal_move(found, tail, guard):
    """The smallest move of both studs alike that brings every string inside, or None."""
    if float(found.difference_margin_mm) < 0.0:
        return None
    least = max(float(np.nanmax(guard - found.lower_margin_mm)), STUD_LOW - min(tail.studs))
    most = min(float(np.nanmin(found.upper_margin_mm - guard)), STUD_HIGH - max(tail.studs))
    if least > most:
        return None
    return float(np.clip(0.0, least, most))


def what_opens(sheet, layout, tail, load, heights):
    """Which changes would open an empty window: (kind, string or None, mm or None) each, the least trouble first."""
    other = _other_stringing(sheet, layout, heights)
    found = geometry_opens(
        _setting(sheet, layout, tail, load), other=None if other is None else _setting(sheet, layout, other, load),
        facing=facings(sheet), turn_shift_mm=believed(sheet, "saddle_turn_mm") or 0.0, cut_mm=LOWER_BY,
    )  # fmt: skip
    opens = []
    if found.other_stringing_mm > 0:
        opens.append(("through" if sheet.stringing == WRAPPED else "wrap", None, None))
    turned = [("turn", number, None) for number, room in zip(sheet.numbers, found.turned_mm, strict=True) if room > 0]
    opens += turned or ([("turn_all", None, None)] if found.all_turned_mm > 0 else [])
    opens += [("crest", number, None) for number, room in zip(sheet.numbers, found.lowered_mm, strict=True) if room > 0]
    if np.isfinite(found.bridge_mm) and found.bridge_mm:
        opens.append(("bridge", None, float(found.bridge_mm)))
    return opens


def _setting(sheet, layout, tail, load):
    """All that the window depends on, for asking the same question of a changed bridge."""
    low, high = sheet.target(sheet.family.angle_target)
    return TailSetting(
        crest_mm=tail.crest, run_mm=tail.run, front_fall_rad=tail.front_fall, edge_behind_mm=tail.edge_behind,
        edge_below_mm=tail.edge_below, bar_radius_mm=tail.bar_radius, hold_rad=alone(_hold(sheet, layout, load)),
        break_low_rad=np.radians(_or(low, np.nan)), break_high_rad=np.radians(_or(high, np.nan)),
        clearance_low_mm=_or(sheet.target("edge_clearance")[0], np.nan),
        **_studs(tail, _or(sheet.target("stud_difference")[1], np.inf)),
    )  # fmt: skip


def _other_stringing(sheet, layout, heights):
    try:
        return tail_of(replace(sheet, stringing="through" if sheet.stringing == WRAPPED else WRAPPED), layout, heights)
    except Lacking:
        return None
