"""Arch, exit bounds and stud window of one worksheet by plain Python: loops, scalars and the math module."""

import math

CLOSE = 1e-9


def fmin(one, other):
    """The smaller of two, a missing one left out."""
    return other if math.isnan(one) else one if math.isnan(other) else min(one, other)


def fmax(one, other):
    return other if math.isnan(one) else one if math.isnan(other) else max(one, other)


def post_line(excess, lateral, span, standard):
    """Both post moves, their uncertainties, and what remains, from the nearest line through the strings."""
    used = [i for i in range(len(excess)) if not math.isnan(excess[i])]
    if not used:
        return math.nan, math.nan, math.nan, math.nan, [math.nan] * len(excess)
    middle = sum(lateral[i] for i in used) / len(used)
    level = sum(-excess[i] for i in used) / len(used)
    spread = sum((lateral[i] - middle) ** 2 for i in used)
    tilt = sum((lateral[i] - middle) * -excess[i] for i in used) / spread if spread > 0 else 0.0
    ends = []
    for end in (-0.5 * span, 0.5 * span):
        arm = end - middle
        share = arm / spread if spread > 0 else 0.0
        noise = sum((standard[i] * (1.0 / len(used) + (lateral[i] - middle) * share)) ** 2 for i in used)
        ends.append((level + tilt * arm, math.sqrt(noise)))
    remains = [-excess[i] - level - tilt * (lateral[i] - middle) for i in range(len(excess))]
    return ends[0][0], ends[1][0], ends[0][1], ends[1][1], remains


def line_below(excess, lateral):
    """Level and slope of the line that lies below every excess and is highest on average."""
    used = [i for i in range(len(excess)) if not math.isnan(excess[i])]
    if not used:
        return math.nan, math.nan
    middle = sum(lateral[i] for i in used) / len(used)
    lines = []
    for at, i in enumerate(used):
        for j in used[at + 1 :]:
            if lateral[i] != lateral[j]:
                slope = (excess[j] - excess[i]) / (lateral[j] - lateral[i])
                lines.append((excess[i] - slope * lateral[i], slope))
    lines.extend((excess[i], 0.0) for i in used)
    best = None
    for level, slope in lines:
        if any(level + slope * lateral[i] > excess[i] + CLOSE for i in used):
            continue
        at_middle = level + slope * middle
        if best is None or at_middle > best[0]:
            best = (at_middle, level, slope)
    return best[1], best[2]


def bound(crest, run, front, low, high, hold, behind, below, clearance, radius):
    """Lowest and highest exit of one string, and what sets them."""
    least_break, holding = low - front, hold - front
    most_break, edge = high - front, math.atan2(below - clearance, behind)
    least, most = fmax(least_break, holding), fmin(most_break, edge)
    by_upper = 0 if math.isnan(least) else 1 if least == least_break else 2
    by_lower = 0 if math.isnan(most) else 3 if most == most_break else 4
    if math.isnan(crest + run):
        return math.nan, math.nan, by_lower, by_upper

    def fall(angle):
        return math.inf if angle >= 0.5 * math.pi else run * math.tan(angle) + radius / math.cos(angle)

    lower = -math.inf if math.isnan(most) else crest - fall(most)
    upper = math.inf if math.isnan(least) else crest - fall(least)
    return lower, upper, by_lower, by_upper


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


def window(lower, upper, sheet):
    """The stud window: `lower` and `upper` per string, the studs' own travel added as two more."""
    span, most = sheet["stud_span_mm"], sheet["difference_most_mm"]
    most = math.inf if math.isnan(most) else most
    bass, treble = sheet["stud_bass_mm"], sheet["stud_treble_mm"]
    count = len(lower)
    low, high, lateral = [], [], []
    for i in range(count):
        offset, across = sheet["above_stud_mm"][i], sheet["lateral_bridge_mm"][i]
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
    return {
        "empty": empty, "room_mm": room if bounded else math.nan, "limit_lower": low_at, "limit_upper": high_at,
        "best_bass_mm": middle - half, "best_treble_mm": middle + half, "inside": inside,
        "lower_margin_mm": below[:count], "upper_margin_mm": above[:count], "difference_mm": treble - bass,
        "difference_margin_mm": spare, "move_bass_mm": move[0], "move_treble_mm": move[1],
    }  # fmt: skip
