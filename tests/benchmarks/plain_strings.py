"""What is worked out of a worksheet string by string, in plain Python: the package's formulas and its argument checks,
function by function, with floats and the math module. NaN is a missing reading, as there.
"""

import math
from dataclasses import dataclass

from geometry.errors import GeometryError
from tests.benchmarks.plain_checks import not_negative, number, positive, within

NAN = math.nan
COVERAGE = 2.0
CENTS = 1200.0 / math.log(2.0)


@dataclass(frozen=True)
class Judgement:
    verdict: int
    margin: float
    probability: float


@dataclass(frozen=True)
class Path:
    rear_fall_rad: float
    break_rad: float
    clearance_mm: float
    on_edge: bool
    edge_bend_rad: float
    short_length_mm: float
    exit_behind_mm: float
    exit_mm: float


@dataclass(frozen=True)
class PathStandard:
    rear_fall_rad: float
    break_rad: float
    clearance_mm: float


@dataclass(frozen=True)
class Force:
    resultant_n: float
    down_n: float
    towards_nut_n: float


@dataclass(frozen=True)
class Reach:
    reaches: bool
    reaches_turned: bool
    screw_mm: float
    screw_turned_mm: float
    left_mm: float
    left_turned_mm: float
    turn: bool
    best_facing: float
    short_mm: float


def fret_fraction(fret):
    return 1.0 - 2.0 ** (not_negative("fret", fret) / -12.0)


def hang_fraction(fret, *, end_fret):
    first = fret_fraction(1.0)
    way = (fret_fraction(fret) - first) / (fret_fraction(positive("end_fret", end_fret)) - first)
    return 4.0 * way * (1.0 - way)


def crown_drop_mm(lateral_mm, *, radius_mm):
    lateral, radius = number("lateral_mm", lateral_mm), positive("radius_mm", radius_mm)
    if abs(lateral) > radius:
        raise GeometryError("lateral_mm", lateral, "at most radius_mm either way")
    return lateral * lateral / (radius + math.sqrt(radius * radius - lateral * lateral))


def crown_height_mm(neck, i, fret, *, relief_mm):
    """Of one fret under string i."""
    along = fret_fraction(fret)
    nut, bridge = number("lateral_nut_mm", neck["lateral_nut_mm"][i]), number("bridge", neck["lateral_bridge_mm"][i])
    start, end = positive("radius_nut_mm", neck["radius_nut_mm"]), positive("radius_end_mm", neck["radius_end_mm"])
    radius = start + (end - start) * along / fret_fraction(neck["end_fret"])
    hang = number("relief_mm", relief_mm) * hang_fraction(fret, end_fret=neck["end_fret"])
    return -hang - crown_drop_mm(nut + (bridge - nut) * along, radius_mm=radius)


def nut_from_gap_mm(neck, i, gap_mm, *, relief_mm):
    share = fret_fraction(1.0) / fret_fraction(3.0)
    low, held = (crown_height_mm(neck, i, fret, relief_mm=relief_mm) for fret in (1.0, 3.0))
    return (number("gap_mm", gap_mm) + low - held * share) / (1.0 - share)


def crest_from_height_mm(neck, i, height_mm, *, nut_mm, relief_mm):
    way = fret_fraction(12.0)
    level = number("height_mm", height_mm) + crown_height_mm(neck, i, 12.0, relief_mm=relief_mm)
    return nut_mm + (level - number("nut_mm", nut_mm)) / way


def slot_shares(neck):
    share = fret_fraction(1.0) / fret_fraction(3.0)
    end = neck["end_fret"]
    return share, hang_fraction(3.0, end_fret=end) * share - hang_fraction(1.0, end_fret=end)


def nut_standard_mm(neck, *, gap_standard_mm, relief_standard_mm):
    share, hang = slot_shares(neck)
    relief = hang * not_negative("relief_standard_mm", relief_standard_mm)
    return math.hypot(not_negative("gap_standard_mm", gap_standard_mm), relief) / (1.0 - share)


def crest_standard_mm(neck, *, height_standard_mm, gap_standard_mm, relief_standard_mm):
    way = fret_fraction(12.0)
    share, hang = slot_shares(neck)
    by_slot = (way - 1.0) / (1.0 - share)
    height = not_negative("height_standard_mm", height_standard_mm)
    gap = by_slot * not_negative("gap_standard_mm", gap_standard_mm)
    under = hang_fraction(12.0, end_fret=neck["end_fret"])
    relief = (by_slot * hang - under) * not_negative("relief_standard_mm", relief_standard_mm)
    return math.sqrt(height * height + gap * gap + relief * relief) / way


def upper_tail(normal):
    return NAN if math.isnan(normal) else 0.5 * math.erfc(normal / math.sqrt(2.0))


def conformance_probability(value, *, low, high, standard):
    value, standard = number("value", value), not_negative("standard", standard)
    below = math.inf if math.isnan(low) else number("low", value - low) / standard
    above = math.inf if math.isnan(high) else number("high", high - value) / standard
    return min(max(1.0 - upper_tail(above) - upper_tail(below), 0.0), 1.0)


def judge(value, *, low, high, standard):
    value, low, high = number("value", value), number("low", low), number("high", high)
    if low > high:
        raise GeometryError("low", low, "at most high")
    band = COVERAGE * not_negative("standard", standard)
    sides = [one for one in (value - low, high - value) if not math.isnan(one)]
    margin = min(sides) if sides else NAN
    verdict = 2 if margin >= band else 0 if margin < -band else 1
    if math.isnan(margin + band):
        return Judgement(-1, margin, NAN)
    return Judgement(verdict, margin, conformance_probability(value, low=low, high=high, standard=standard))


def lever(lateral_mm, *, span_mm):
    across = number("lateral_mm", lateral_mm) / positive("span_mm", span_mm)
    return 0.5 - across, 0.5 + across


def exit_height_mm(bass_mm, treble_mm, *, lateral_mm, span_mm, above_stud_mm):
    bass, treble = lever(lateral_mm, span_mm=span_mm)
    level = bass * number("bass_mm", bass_mm) + treble * number("treble_mm", treble_mm)
    return level + number("above_stud_mm", above_stud_mm)


def front_fall_rad(neck_tilt_rad, *, climb_mm, crest_x_mm):
    tilt = within("neck_tilt_rad", neck_tilt_rad, -0.5 * math.pi, 0.5 * math.pi)
    return tilt + math.atan2(number("climb_mm", climb_mm), positive("crest_x_mm", crest_x_mm))


def rear_fall_rad(drop_mm, *, run_mm, bar_radius_mm):
    drop, run = number("drop_mm", drop_mm), positive("run_mm", run_mm)
    radius = not_negative("bar_radius_mm", bar_radius_mm)
    apart = math.hypot(drop, run)
    return math.atan2(drop, run) - math.asin(radius / apart) if radius < apart else NAN


def tail_path(crest_mm, exit_mm, *, run_mm, front_fall_rad, edge_behind_mm, edge_below_mm, bar_radius_mm):
    crest, leaves, run = number("crest_mm", crest_mm), number("exit_mm", exit_mm), positive("run_mm", run_mm)
    behind, below = positive("edge_behind_mm", edge_behind_mm), number("edge_below_mm", edge_below_mm)
    radius = number("bar_radius_mm", bar_radius_mm)
    drop = crest - leaves
    straight = rear_fall_rad(drop, run_mm=run, bar_radius_mm=radius)
    between = run + radius * math.sin(straight) > behind
    clearance = below - behind * math.tan(straight) if between else NAN
    on_edge = clearance < 0
    to_edge = math.atan2(below, behind)
    beyond = rear_fall_rad(drop - below, run_mm=run - behind, bar_radius_mm=radius) if between else NAN
    rear, last = (to_edge, beyond) if on_edge else (straight, straight)
    return Path(
        rear, number("front_fall_rad", front_fall_rad) + rear, clearance, on_edge,
        beyond - to_edge if on_edge else 0.0 * straight, math.hypot(behind, below) if on_edge else NAN,
        run + radius * math.sin(last), leaves + radius * math.cos(last),
    )  # fmt: skip


def tail_standard(
    path, *, drop_mm, run_mm, edge_behind_mm, edge_below_mm, bar_radius_mm, drop_standard_mm, run_standard_mm,
    behind_standard_mm, below_standard_mm, front_standard_rad,
):  # fmt: skip
    drop, run = number("drop_mm", drop_mm), positive("run_mm", run_mm)
    behind, below = positive("edge_behind_mm", edge_behind_mm), number("edge_below_mm", edge_below_mm)
    u_drop, u_run = not_negative("drop", drop_standard_mm), not_negative("run", run_standard_mm)
    u_behind, u_below = not_negative("behind", behind_standard_mm), not_negative("below", below_standard_mm)
    straight = math.atan2(drop, run) - math.asin(min(bar_radius_mm / math.hypot(drop, run), 1.0))
    sine, cosine = math.sin(straight), math.cos(straight)
    u_straight = math.hypot(cosine * u_drop, sine * u_run) / (drop * sine + run * cosine)
    u_edge = math.hypot(behind * u_below, below * u_behind) / (behind * behind + below * below)
    rear = (u_edge if path.on_edge else u_straight) + 0.0 * path.rear_fall_rad
    lean = behind * u_straight / (cosine * cosine)
    clearance = math.sqrt(u_below**2 + (sine / cosine * u_behind) ** 2 + lean * lean) + 0.0 * path.clearance_mm
    return PathStandard(rear, math.hypot(rear, not_negative("front", front_standard_rad)), clearance)


def tension_n(mass_kg_per_m, *, length_mm, frequency_hz):
    speed = 2e-3 * positive("length_mm", length_mm) * positive("frequency_hz", frequency_hz)
    return positive("mass_kg_per_m", mass_kg_per_m) * speed * speed


def saddle_force(tension_n, *, front_fall_rad, rear_fall_rad):
    tension = not_negative("tension_n", tension_n)
    front, rear = number("front_fall_rad", front_fall_rad), number("rear_fall_rad", rear_fall_rad)
    half_bend, half_lean = 0.5 * (front + rear), 0.5 * (rear - front)
    resultant = 2.0 * tension * math.sin(half_bend)
    return Force(resultant, resultant * math.cos(half_lean), resultant * math.sin(half_lean))


def force_standard_n(force, *, tension_n, break_rad, tension_standard_n, break_standard_rad):
    tension = positive("tension_n", tension_n)
    by_tension = force.resultant_n / tension * not_negative("tension_standard_n", tension_standard_n)
    half = 0.5 * number("break_rad", break_rad)
    return math.hypot(by_tension, tension * math.cos(half) * not_negative("break_standard_rad", break_standard_rad))


def groove(half_angle_rad):
    angle = positive("half_angle_rad", half_angle_rad)
    if angle >= 0.5 * math.pi:
        raise GeometryError("half_angle_rad", angle, "below a quarter turn")
    return angle


def holding_force_n(resultant_n, *, half_angle_rad):
    return not_negative("resultant_n", resultant_n) / math.tan(groove(half_angle_rad))


def holding_break_rad(side_n, *, tension_n, half_angle_rad):
    needed = not_negative("side_n", side_n) * math.tan(groove(half_angle_rad))
    sine = 0.5 * needed / positive("tension_n", tension_n)
    return math.inf if sine > 1.0 else 2.0 * math.asin(sine)


def pluck_side_force_n(pluck_n, *, from_saddle_mm, length_mm):
    length, place = positive("length_mm", length_mm), within("from_saddle_mm", from_saddle_mm, 0.0, length_mm)
    return not_negative("pluck_n", pluck_n) * (1.0 - place / length)


def capstan_bound_cents(break_rad, *, friction):
    bend = number("break_rad", break_rad)
    return NAN if math.isnan(bend) else 0.5 * CENTS * within("friction", friction, 0.0, 2.0) * max(bend, 0.0)


def intonation_move_mm(interval_cents, *, open_mm):
    whole = positive("open_mm", open_mm)
    fretted = whole * 2.0 ** (-12.0 / 12.0)
    exponent = number("interval_cents", interval_cents) / CENTS
    left = 1.0 - math.exp(exponent) * fretted / whole
    return fretted * math.expm1(exponent) / left if left > 0 else NAN


def move_standard_mm(interval_cents, standard_cents, *, open_mm):
    share = 2.0 ** (-12.0 / 12.0)
    ratio = math.exp(number("interval_cents", interval_cents) / CENTS)
    per_ratio = positive("open_mm", open_mm) * share * (1.0 - share) / (1.0 - ratio * share) ** 2
    return per_ratio * ratio / CENTS * not_negative("standard_cents", standard_cents)


def saddle_reach(move_mm, *, back_left_mm, forward_left_mm, facing, turn_shift_mm):
    move, facing = number("move_mm", move_mm), number("facing", facing)
    if not (math.isnan(facing) or facing in (1.0, -1.0)):
        raise GeometryError("facing", facing, "1 (flat to rear) or -1 (flat to front)")
    back, ahead = not_negative("back_left_mm", back_left_mm), not_negative("forward_left_mm", forward_left_mm)
    turned = move + facing * not_negative("turn_shift_mm", turn_shift_mm)
    left, left_turned = travel_left(back, ahead, move), travel_left(back, ahead, turned)
    known = [one for one in (left, left_turned) if not math.isnan(one)]
    best = NAN if math.isnan(left) else -facing if left_turned > left else facing
    return Reach(
        left >= 0, left_turned >= 0, move + 0.0 * left, turned + 0.0 * left, left, left_turned,
        left_turned >= 0 and left < 0, best, max(-max(known), 0.0) if known else NAN,
    )  # fmt: skip


def travel_left(back, ahead, screw):
    one, other = back - screw, ahead + screw
    return NAN if math.isnan(one + other) else min(one, other)
