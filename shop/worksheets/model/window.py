"""Where the studs may stand, what limits them, and what would open a window that is empty."""

from dataclasses import dataclass, replace

import numpy as np

from geometry.exits import ExitBounds, exit_bounds
from geometry.force import holding_break_rad, pluck_side_force_n
from geometry.window import StudWindow, stud_window, window_corners_mm
from shop.worksheets.model.lacking import Lacking, believed
from shop.worksheets.model.tail import FORWARD, NEAREST_EDGE, WRAPPED, tail_of

# A strong pluck and where, as a share of the open length from the saddle. Common practice, no source.
PLUCK_N, PLUCK_AT = 4.0, 0.15
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


def window_of(sheet, layout, tail, load):
    limits = _limits(sheet)
    bounds = _bounds(sheet, layout, tail, load, limits)
    if not (np.isfinite(bounds.lower_mm) | np.isfinite(bounds.upper_mm)).any():
        raise Lacking("The profile has no targets for break angle and edge clearance.")
    found = _solved(bounds, tail, limits["difference"])
    advised, equal = _advised(bounds, tail, found, limits["difference"])
    return Window(found, bounds, advised, equal, limits["difference"])


def _limits(sheet):
    low, high = sheet.target("break_angle")
    return {
        "low": np.nan if low is None else np.radians(low), "high": np.nan if high is None else np.radians(high),
        "clearance": _or_nan(sheet.target("edge_clearance")[0]),
        "difference": _or_inf(sheet.target("stud_difference")[1]),
    }  # fmt: skip


def _or_nan(value):
    return np.nan if value is None else value


def _or_inf(value):
    return np.inf if value is None else value


def _bounds(sheet, layout, tail, load, limits):
    return exit_bounds(
        tail.crest, run_mm=tail.run, front_fall_rad=tail.front_fall, break_low_rad=limits["low"],
        break_high_rad=limits["high"], hold_rad=_hold(sheet, layout, load), edge_behind_mm=tail.edge_behind,
        edge_below_mm=tail.edge_below, clearance_low_mm=limits["clearance"], bar_radius_mm=tail.bar_radius,
    )  # fmt: skip


def _hold(sheet, layout, load):
    """Least break angle at which each groove holds its string against a strong pluck; NaN where it is not known."""
    groove = believed(sheet, "groove_half_angle_deg")
    if load is None or groove is None:
        return np.nan
    side = pluck_side_force_n(PLUCK_N, from_saddle_mm=PLUCK_AT * layout.scale, length_mm=layout.scale)
    held = holding_break_rad(side, tension_n=load.tension, half_angle_rad=np.radians(groove))
    return np.where(np.isfinite(held), held, np.nan)


def _solved(bounds, tail, difference, *, guard=0.0):
    return stud_window(
        bounds.lower_mm + guard, bounds.upper_mm - guard, bass_mm=tail.studs[0], treble_mm=tail.studs[1],
        **_studs(tail, difference),
    )  # fmt: skip


def _studs(tail, difference):
    return {
        "lateral_mm": tail.lateral, "span_mm": tail.stud_span, "above_stud_mm": tail.above_stud,
        "difference_most_mm": difference, "stud_low_mm": STUD_LOW, "stud_high_mm": STUD_HIGH,
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
    inner = _solved(bounds, tail, difference, guard=guard)
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


def what_opens(sheet, layout, tail, load, heights, window):
    """Which changes would open an empty window: a list of ('wrap' | 'through' | 'turn' | 'crest', string or None)."""
    limits = _limits(sheet)
    opens = [("through" if sheet.stringing == WRAPPED else "wrap", None, _other_stringing(sheet, layout, heights))]
    for index in _limiting(window, len(sheet.numbers)):
        opens.append(("turn", sheet.numbers[index], _turned(sheet, tail, index)))
        opens.append(("crest", sheet.numbers[index], _lower(tail, index)))
    return [(what, string) for what, string, changed in opens
            if changed is not None and not bool(_solved(_bounds(sheet, layout, changed, load, limits), changed,
                                                        limits["difference"]).empty)]  # fmt: skip


def _limiting(window, count):
    return [one for one in dict.fromkeys((int(window.found.limit_lower), int(window.found.limit_upper))) if one < count]


def _other_stringing(sheet, layout, heights):
    try:
        return tail_of(replace(sheet, stringing="through" if sheet.stringing == WRAPPED else WRAPPED), layout, heights)
    except Lacking:
        return None


def _turned(sheet, tail, index):
    """The tail with one saddle turned round: its crest moves by the saddle's thickness, and the edge with it."""
    facing, turn = sheet.choice("saddle_facing", sheet.numbers[index]), believed(sheet, "saddle_turn_mm")
    if facing is None or not turn:
        return None
    shift = np.zeros(len(sheet.numbers))
    shift[index] = -FORWARD[facing] * turn
    behind = np.maximum(tail.edge_behind + shift, NEAREST_EDGE)
    return replace(tail, edge_behind=behind, run=tail.run + behind - tail.edge_behind)


LOWER_BY = 1.0  # mm; a deeper cut is another saddle


def _lower(tail, index):
    """The tail with one crest cut lower by as much as one would cut."""
    cut = np.zeros(len(tail.crest))
    cut[index] = LOWER_BY
    return replace(tail, crest=tail.crest - cut, edge_below=tail.edge_below - cut)
