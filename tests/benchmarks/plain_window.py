"""Arch, exit bounds and stud window of one worksheet in plain Python: the package's formulas and argument checks."""

import math
from dataclasses import dataclass

from geometry.errors import GeometryError
from tests.benchmarks.plain_checks import not_negative, number, positive

CLOSE = 1e-9


def fmin(one, other):
    """The smaller of two, a missing one left out."""
    return other if math.isnan(one) else one if math.isnan(other) else min(one, other)


def fmax(one, other):
    return other if math.isnan(one) else one if math.isnan(other) else max(one, other)


@dataclass(frozen=True)
class Bounds:
    lower_mm: float
    upper_mm: float
    lower_by: int
    upper_by: int


def post_moves(wanted_mm, *, lateral_mm, span_mm, standard_mm):
    """Both post moves, their uncertainties, and what remains, from the nearest line through the strings."""
    half = 0.5 * positive("span_mm", span_mm)
    standard = not_negative("standard_mm", standard_mm)
    used = [i for i in range(len(wanted_mm)) if not math.isnan(number("wanted_mm", wanted_mm[i]) + lateral_mm[i])]
    if not used:
        return math.nan, math.nan, math.nan, math.nan, [math.nan] * len(wanted_mm)
    middle = sum(lateral_mm[i] for i in used) / len(used)
    level = sum(wanted_mm[i] for i in used) / len(used)
    spread = sum((lateral_mm[i] - middle) ** 2 for i in used)
    tilt = sum((lateral_mm[i] - middle) * wanted_mm[i] for i in used) / spread if spread > 0 else 0.0
    ends = []
    for end in (-half, half):
        arm = end - middle
        share = arm / spread if spread > 0 else 0.0
        noise = sum((standard * (1.0 / len(used) + (lateral_mm[i] - middle) * share)) ** 2 for i in used)
        ends.append((level + tilt * arm, math.sqrt(noise)))
    remains = [one - level - tilt * (across - middle) for one, across in zip(wanted_mm, lateral_mm, strict=True)]
    return ends[0][0], ends[1][0], ends[0][1], ends[1][1], remains


def line_below(excess, lateral):
    """Level and slope of the line that lies below every excess and is highest at the strings' mean place."""
    used = [i for i in range(len(excess)) if not math.isnan(excess[i])]
    if not used:
        return math.nan, math.nan
    middle = sum(lateral[i] for i in used) / len(used) + 1e-7
    best = None
    for at, i in enumerate(used):
        near = lateral[i] - middle
        for j in used[at + 1 :]:
            far = lateral[j] - middle
            if near * far < 0:
                value = (excess[i] * far - excess[j] * near) / (far - near)
                if best is None or value < best[0]:
                    best = (value, (excess[j] - excess[i]) / (far - near))
    value, slope = (min(excess[i] for i in used), 0.0) if best is None else best
    return value - slope * middle, slope


def fit_arch(crest_mm, wanted_mm, *, lateral_mm, span_mm, standard_mm):
    excess = [number("crest_mm", one) - number("wanted_mm", two) for one, two in zip(crest_mm, wanted_mm, strict=True)]
    bass, treble, u_bass, u_treble, remains = post_moves(
        [-one for one in excess], lateral_mm=lateral_mm, span_mm=span_mm, standard_mm=standard_mm
    )
    level, slope = line_below(excess, lateral_mm)
    half = 0.5 * span_mm * slope
    cut = [
        math.nan if math.isnan(one) else max(one - level - slope * across, 0.0)
        for one, across in zip(excess, lateral_mm, strict=True)
    ]
    return {
        "bass_mm": bass, "treble_mm": treble, "bass_standard_mm": u_bass, "treble_standard_mm": u_treble,
        "error_mm": [-one for one in remains], "cut_mm": cut, "cut_bass_mm": half - level,
        "cut_treble_mm": -half - level,
    }  # fmt: skip


def fall_mm(fall_rad, run, radius):
    return math.inf if fall_rad >= 0.5 * math.pi else run * math.tan(fall_rad) + radius / math.cos(fall_rad)


def exit_bounds(
    crest_mm, *, run_mm, front_fall_rad, break_low_rad, break_high_rad, hold_rad, edge_behind_mm, edge_below_mm,
    clearance_low_mm, bar_radius_mm,
):  # fmt: skip
    """Lowest and highest exit of one string, and what sets them."""
    crest, run = number("crest_mm", crest_mm), positive("run_mm", run_mm)
    front, radius = number("front_fall_rad", front_fall_rad), number("bar_radius_mm", bar_radius_mm)
    low, high, hold = number("low", break_low_rad), number("high", break_high_rad), number("hold_rad", hold_rad)
    if low > high:
        raise GeometryError("break_low_rad", low, "at most break_high_rad")
    room = number("edge_below_mm", edge_below_mm) - number("clearance_low_mm", clearance_low_mm)
    edge = math.atan2(room, positive("edge_behind_mm", edge_behind_mm))
    least, most = fmax(low - front, hold - front), fmin(high - front, edge)
    by_upper = 0 if math.isnan(least) else 1 if least == low - front else 2
    by_lower = 0 if math.isnan(most) else 3 if most == high - front else 4
    if math.isnan(crest + run):
        return Bounds(math.nan, math.nan, by_lower, by_upper)
    lower = -math.inf if math.isnan(most) else crest - fall_mm(most, run, radius)
    upper = math.inf if math.isnan(least) else crest - fall_mm(least, run, radius)
    return Bounds(lower, upper, by_lower, by_upper)


def tangent(lower, upper, lateral, slope):
    """Gap between the lowest upper and the highest lower bound at a slope, how it changes, and both strings."""
    top = low_at = high_at = None
    bottom = None
    for i, across in enumerate(lateral):
        tilted = slope * across
        if top is None or upper[i] - tilted < top:
            top, high_at = upper[i] - tilted, i
        if bottom is None or lower[i] - tilted > bottom:
            bottom, low_at = lower[i] - tilted, i
    gap = max(top - bottom, -1e12)
    return gap, lateral[low_at] - lateral[high_at], top, bottom, low_at, high_at


def best_setting(lower, upper, lateral, span, most):
    travel = (upper[-1] - lower[-1]) / span
    left = -min(most / span, travel)
    right = -left
    gap_left, rise_left = tangent(lower, upper, lateral, left)[:2]
    gap_right, rise_right = tangent(lower, upper, lateral, right)[:2]
    for _ in range(4 * len(lower)):
        if rise_left <= 0:
            found = left
        elif rise_right >= 0:
            found = right
        else:
            way = (gap_right - gap_left - rise_right * (right - left)) / (rise_left - rise_right)
            found = min(left + max(way, 0.0), right)
        gap, rise, top, bottom, low_at, high_at = tangent(lower, upper, lateral, found)
        if rise_left * (found - left) + gap_left - gap <= CLOSE * 1e-3 or rise == 0:
            return 0.5 * (top - bottom), 0.5 * (top + bottom), found, low_at, high_at
        if rise > 0:
            left, gap_left, rise_left = found, gap, rise
        else:
            right, gap_right, rise_right = found, gap, rise
    raise AssertionError("not closed in")


def half_planes(lower, upper, lateral, span, most):
    lines = []
    for i, across in enumerate(lateral):
        share = across / span
        bass, treble = 0.5 - share, 0.5 + share
        length = math.hypot(bass, treble)
        lines.append((bass / length, treble / length, upper[i] / length))
        lines.append((-bass / length, -treble / length, -lower[i] / length))
    root = math.sqrt(2.0)
    lines.append((-1 / root, 1 / root, most / root))
    lines.append((1 / root, -1 / root, most / root))
    return lines


def nearest_point(lines, bass, treble):
    """Nearest point of the polygon: the nearest point of the edges of half-planes that the point does not keep."""
    best = None
    for one in lines:
        if one[0] * bass + one[1] * treble <= one[2] or math.isinf(one[2]):
            continue
        foot = (one[0] * one[2], one[1] * one[2])
        along = (-one[1], one[0])
        start, end = -math.inf, math.inf
        for other in lines:
            slope = along[0] * other[0] + along[1] * other[1]
            room = other[2] - foot[0] * other[0] - foot[1] * other[1]
            if abs(slope) < 1e-12:
                if room < -CLOSE:
                    break
            elif slope < 0:
                start = max(start, room / slope)
            else:
                end = min(end, room / slope)
        else:
            if end - start < -CLOSE:
                continue
            place = (bass - foot[0]) * along[0] + (treble - foot[1]) * along[1]
            place = min(max(place, start), max(end, start))
            there = (foot[0] + place * along[0], foot[1] + place * along[1])
            apart = math.hypot(there[0] - bass, there[1] - treble)
            if best is None or apart < best[0]:
                best = (apart, there)
    return (bass, treble) if best is None else best[1]


def stud_window(lower, upper, sheet):
    """The stud window: `lower` and `upper` per string, the studs' own travel added as two more."""
    span, most = positive("span_mm", sheet["stud_span_mm"]), not_negative("most", sheet["difference_most_mm"])
    most = math.inf if math.isnan(most) else most
    bass, treble = sheet["stud_bass_mm"], sheet["stud_treble_mm"]
    count = len(lower)
    low, high, lateral = [], [], []
    for i in range(count):
        offset = number("above_stud_mm", sheet["above_stud_mm"][i])
        across = number("lateral_mm", sheet["lateral_bridge_mm"][i])
        gone = math.isnan(lower[i]) or math.isnan(upper[i]) or math.isnan(across)
        low.append(-math.inf if gone else lower[i] - offset)
        high.append(math.inf if gone else upper[i] - offset)
        lateral.append(0.0 if gone else across)
    low += [0.0, 0.0]
    high += [60.0, 60.0]
    lateral += [-0.5 * span, 0.5 * span]
    room, middle, tilt, low_at, high_at = best_setting(low, high, lateral, span, most)
    slope = (treble - bass) / span
    levels = [0.5 * (bass + treble) + slope * across for across in lateral]
    below = [level - one for level, one in zip(levels, low, strict=True)]
    above = [one - level for level, one in zip(levels, high, strict=True)]
    spare = most - abs(treble - bass)
    inside = min(min(below), min(above)) >= -CLOSE and spare >= -CLOSE
    empty = room < -CLOSE
    move = (0.0, 0.0) if inside and not empty else (math.nan, math.nan)
    if not inside and not empty and not math.isnan(bass + treble):
        there = nearest_point(half_planes(low, high, lateral, span, most), bass, treble)
        move = (there[0] - bass, there[1] - treble)
    bounded = any(math.isfinite(low[i]) or math.isfinite(high[i]) for i in range(count))
    half = 0.5 * tilt * span
    at_best = [middle + tilt * across for across in lateral]
    return {
        "empty": empty, "room_mm": room if bounded else math.nan, "limit_lower": low_at, "limit_upper": high_at,
        "lower_room_mm": [level - one for level, one in zip(at_best, low, strict=True)],
        "upper_room_mm": [one - level for level, one in zip(at_best, high, strict=True)],
        "best_bass_mm": middle - half, "best_treble_mm": middle + half, "inside": inside,
        "lower_margin_mm": below[:count], "upper_margin_mm": above[:count], "difference_mm": treble - bass,
        "difference_margin_mm": spare, "move_bass_mm": move[0], "move_treble_mm": move[1],
    }  # fmt: skip
