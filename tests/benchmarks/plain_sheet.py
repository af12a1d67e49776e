"""Every check of one worksheet by plain Python: what one would write without arrays, over the same formulas."""

import math

from tests.benchmarks.plain_window import bound, line_below, post_line, window

NAN = math.nan
COVERAGE, ROOT_12 = 2.0, math.sqrt(12.0)
CENTS = 1200.0 / math.log(2.0)


def along(fret):
    return 1.0 - 2.0 ** (-fret / 12.0)


def crown(sheet, i, fret):
    """Height of a crown under a string."""
    x = along(fret)
    radius = sheet["radius_nut_mm"] + (sheet["radius_end_mm"] - sheet["radius_nut_mm"]) * x / along(sheet["end_fret"])
    nut, bridge = sheet["lateral_nut_mm"][i], sheet["lateral_bridge_mm"][i]
    across = nut + (bridge - nut) * x
    drop = across * across / (radius + math.sqrt(radius * radius - across * across))
    return -sheet["relief_mm"] * hang(fret, sheet["end_fret"]) - drop


def hang(fret, end):
    way = (along(fret) - along(1)) / (along(end) - along(1))
    return 4.0 * way * (1.0 - way)


def upper_tail(normal):
    return NAN if math.isnan(normal) else 0.5 * math.erfc(normal / math.sqrt(2.0))


def judge(value, low, high, standard):
    """Verdict, margin and probability of conformance of one reading."""
    bounds = [one for one in (value - low, high - value) if not math.isnan(one)]
    margin = min(bounds) if bounds else NAN
    band = COVERAGE * standard
    if math.isnan(margin + band):
        verdict = -1
    else:
        verdict = 2 if margin >= band else 0 if margin < -band else 1
    if math.isnan(margin) or math.isnan(standard):
        return verdict, margin, NAN
    below = math.inf if math.isnan(low) else (value - low) / standard
    above = math.inf if math.isnan(high) else (high - value) / standard
    return verdict, margin, min(max(1.0 - upper_tail(above) - upper_tail(below), 0.0), 1.0)


def neck_part(sheet):
    """Slots and crests from the readings, with their uncertainties."""
    share, way = along(1) / along(3), along(12)
    end = sheet["end_fret"]
    slope = hang(3, end) * share - hang(1, end)
    by_slot, under = (way - 1.0) / (1.0 - share), hang(12, end)
    found = {"nut_mm": [], "nut_standard_mm": [], "crest_mm": [], "crest_standard_mm": []}
    for i in range(sheet["strings"]):
        gap, height = sheet["nut_gap_mm"][i], sheet["height_12_mm"][i]
        nut = (gap + crown(sheet, i, 1) - crown(sheet, i, 3) * share) / (1.0 - share)
        crest = nut + (height + crown(sheet, i, 12) - nut) / way
        u_gap, u_height, u_relief = sheet["u_nut_gap_mm"], sheet["u_height_12_mm"], sheet["u_relief_mm"]
        found["nut_mm"].append(nut)
        found["crest_mm"].append(crest)
        spread = math.hypot(u_gap, slope * u_relief) / (1.0 - share)
        found["nut_standard_mm"].append(NAN if math.isnan(nut) else spread)
        spread = math.sqrt(u_height**2 + (by_slot * u_gap) ** 2 + ((by_slot * slope - under) * u_relief) ** 2) / way
        found["crest_standard_mm"].append(NAN if math.isnan(crest) else spread)
    return found


def arch_part(sheet):
    way = along(12)
    excess = []
    for i in range(sheet["strings"]):
        goal = 0.5 * (sheet["height_low_mm"][i] + sheet["height_high_mm"][i])
        excess.append(sheet["height_12_mm"][i] / way - goal / way)
    lateral, span = sheet["lateral_bridge_mm"], sheet["post_span_mm"]
    standard = [sheet["u_height_12_mm"] / way] * len(excess)
    bass, treble, u_bass, u_treble, remains = post_line(excess, lateral, span, standard)
    level, slope = line_below(excess, lateral)
    half = 0.5 * span * slope
    cut = [
        NAN if math.isnan(one) or math.isnan(level) else max(one - level - slope * y, 0.0)
        for one, y in zip(excess, lateral, strict=True)
    ]
    return {
        "bass_mm": bass, "treble_mm": treble, "bass_standard_mm": u_bass, "treble_standard_mm": u_treble,
        "error_mm": [-one for one in remains], "cut_mm": cut, "cut_bass_mm": half - level,
        "cut_treble_mm": -half - level,
    }  # fmt: skip


def rear_fall(drop, run, radius):
    apart = math.hypot(drop, run)
    return math.atan2(drop, run) - math.asin(radius / apart) if radius < apart else NAN


def tail_part(sheet, i, nut, crest):
    """One string behind its crest: path, uncertainties, front fall."""
    climb = crest - nut
    front = sheet["neck_tilt_rad"] + math.atan2(0.0 if math.isnan(climb) else climb, sheet["scale_mm"][i])
    across = sheet["lateral_bridge_mm"][i] / sheet["stud_span_mm"]
    bass, treble = 0.5 - across, 0.5 + across
    leaves = bass * sheet["stud_bass_mm"] + treble * sheet["stud_treble_mm"] + sheet["above_stud_mm"][i]
    run, radius = sheet["run_mm"][i], sheet["bar_radius_mm"][i]
    behind, below = sheet["edge_behind_mm"][i], sheet["edge_below_mm"][i]
    drop = sheet["top_crest_mm"][i] - leaves
    straight = rear_fall(drop, run, radius)
    between = run + radius * math.sin(straight) > behind
    clearance = below - behind * math.tan(straight) if between else NAN
    on_edge = clearance < 0
    to_edge = math.atan2(below, behind)
    rear = to_edge if on_edge else straight
    beyond = rear_fall(drop - below, run - behind, radius) if between else NAN
    last = beyond if on_edge else straight
    path = {
        "rear_fall_rad": rear, "break_rad": front + rear, "clearance_mm": clearance, "on_edge": on_edge,
        "edge_bend_rad": beyond - to_edge if on_edge else 0.0 * straight,
        "short_length_mm": math.hypot(behind, below) if on_edge else NAN,
        "exit_behind_mm": run + radius * math.sin(last), "exit_mm": leaves + radius * math.cos(last),
    }  # fmt: skip
    u_drop = math.hypot(sheet["u_crest_mm"], math.hypot(bass, treble) * sheet["u_stud_mm"])
    sine, cosine = math.sin(straight), math.cos(straight)
    u_run, u_behind, u_below = sheet["u_run_mm"], sheet["u_edge_behind_mm"], sheet["u_edge_below_mm"]
    u_straight = math.hypot(cosine * u_drop, sine * u_run) / (drop * sine + run * cosine)
    u_edge = math.hypot(behind * u_below, below * u_behind) / (behind * behind + below * below)
    u_rear = (u_edge if on_edge else u_straight) + 0.0 * rear
    lean = behind * u_straight / (cosine * cosine)
    u_clearance = math.sqrt(u_below**2 + (sine / cosine * u_behind) ** 2 + lean * lean) + 0.0 * clearance
    u_break = math.hypot(u_rear, sheet["u_neck_tilt_rad"])
    return path, front, {"rear_fall_rad": u_rear, "break_rad": u_break, "clearance_mm": u_clearance}


def force_part(sheet, i, path, front, spread):
    """One string on its saddle."""
    speed = 2e-3 * sheet["scale_mm"][i] * sheet["frequency_hz"][i]
    tension = sheet["mass_kg_per_m"][i] * speed * speed
    rear, bend = path["rear_fall_rad"], path["break_rad"]
    resultant = 2.0 * tension * math.sin(0.5 * bend)
    lean = 0.5 * (rear - (bend - rear))
    groove = math.tan(sheet["groove_half_angle_rad"])
    pluck = sheet["pluck_n"] * (1.0 - sheet["pluck_share"])
    sine = 0.5 * pluck * groove / tension
    by_tension = resultant / tension * sheet["u_tension_n"]
    return {
        "tension_n": tension, "resultant_n": resultant, "down_n": resultant * math.cos(lean),
        "towards_nut_n": resultant * math.sin(lean),
        "resultant_standard_n": math.hypot(by_tension, tension * math.cos(0.5 * bend) * spread["break_rad"]),
        "holding_n": NAN if math.isnan(resultant) else max(resultant, 0.0) / groove, "pluck_side_n": pluck,
        "capstan_cents": NAN if math.isnan(bend) else 0.5 * CENTS * sheet["friction"] * max(bend, 0.0),
        "hold_rad": math.inf if sine > 1.0 else 2.0 * math.asin(sine),
    }  # fmt: skip


def octave_part(sheet, i):
    """One string's octave: the crest's move, its uncertainty, and whether the saddle gets there."""
    cents, whole = sheet["octave_cents"][i], sheet["scale_mm"][i]
    fretted = 0.5 * whole
    ratio = math.exp(cents / CENTS)
    left = 1.0 - ratio * fretted / whole
    move = fretted * math.expm1(cents / CENTS) / left if left > 0 else NAN
    spread = fretted * 0.5 / (1.0 - 0.5 * ratio) ** 2 * ratio / CENTS * sheet["u_octave_cents"]
    facing = sheet["facing"][i]
    turned = move + facing * sheet["turn_shift_mm"]
    back, ahead = sheet["back_left_mm"][i], sheet["forward_left_mm"][i]
    left, left_turned = room(back, ahead, move), room(back, ahead, turned)
    known = [one for one in (left, left_turned) if not math.isnan(one)]
    gone = math.isnan(left)
    return {
        "octave_move_mm": move, "octave_move_standard_mm": spread, "reaches": left >= 0,
        "reaches_turned": left_turned >= 0, "screw_mm": move + 0.0 * left, "screw_turned_mm": turned + 0.0 * left,
        "left_mm": left, "left_turned_mm": left_turned, "turn": left_turned >= 0 and left < 0,
        "best_facing": NAN if gone else -facing if left_turned > left else facing,
        "short_mm": max(-max(known), 0.0) if known else NAN,
    }  # fmt: skip


def room(back, ahead, screw):
    one, other = back - screw, ahead + screw
    return NAN if math.isnan(one + other) else min(one, other)


def verdicts(sheet, strings):
    root = math.sqrt(2.0)
    found = {
        "relief": judge(sheet["relief_mm"], sheet["relief_low_mm"], sheet["relief_high_mm"], sheet["u_relief_mm"]),
        "difference": judge(
            abs(sheet["stud_treble_mm"] - sheet["stud_bass_mm"]), NAN, sheet["difference_most_mm"],
            root * sheet["u_stud_mm"],
        ),
        "nut_gap": [], "height_12": [], "break_angle": [], "clearance": [], "octave": [],
    }  # fmt: skip
    for i, (path, _, spread) in enumerate(strings):
        found["nut_gap"].append(judge(
            sheet["nut_gap_mm"][i], sheet["nut_gap_low_mm"], sheet["nut_gap_high_mm"], sheet["u_nut_gap_mm"]
        ))  # fmt: skip
        found["height_12"].append(judge(
            sheet["height_12_mm"][i], sheet["height_low_mm"][i], sheet["height_high_mm"][i], sheet["u_height_12_mm"]
        ))  # fmt: skip
        found["break_angle"].append(
            judge(path["break_rad"], sheet["break_low_rad"], sheet["break_high_rad"], spread["break_rad"])
        )
        found["clearance"].append(
            judge(path["clearance_mm"], sheet["clearance_low_mm"], NAN, spread["clearance_mm"])
        )
        found["octave"].append(judge(
            sheet["octave_cents"][i], sheet["octave_low_cents"], sheet["octave_high_cents"], sheet["u_octave_cents"]
        ))  # fmt: skip
    return found


def post_loads(sheet, forces):
    bass = treble = 0.0
    gone = True
    for i, one in enumerate(forces):
        if not math.isnan(one["down_n"]):
            across = sheet["lateral_bridge_mm"][i] / sheet["post_span_mm"]
            bass, treble, gone = bass + (0.5 - across) * one["down_n"], treble + (0.5 + across) * one["down_n"], False
    return (NAN, NAN) if gone else (bass, treble)


def check_sheet(sheet):
    """All checks of one worksheet as a dict of numbers, lists over the strings, and dicts of these."""
    found = neck_part(sheet)
    found["arch"] = arch_part(sheet)
    strings = [tail_part(sheet, i, found["nut_mm"][i], found["crest_mm"][i]) for i in range(sheet["strings"])]
    found["strings"] = strings
    found["verdicts"] = verdicts(sheet, strings)
    found["forces"] = forces = [force_part(sheet, i, *one) for i, one in enumerate(strings)]
    found["load_n"] = sum(one["tension_n"] for one in forces)
    found["post_bass_n"], found["post_treble_n"] = post_loads(sheet, forces)
    found["bounds"] = bounds = [
        bound(
            sheet["top_crest_mm"][i], sheet["run_mm"][i], path["break_rad"] - path["rear_fall_rad"],
            sheet["break_low_rad"], sheet["break_high_rad"], forces[i]["hold_rad"], sheet["edge_behind_mm"][i],
            sheet["edge_below_mm"][i], sheet["clearance_low_mm"], sheet["bar_radius_mm"][i],
        )
        for i, (path, _, _) in enumerate(strings)
    ]  # fmt: skip
    found["window"] = window([one[0] for one in bounds], [one[1] for one in bounds], sheet)
    found["octave"] = [octave_part(sheet, i) for i in range(sheet["strings"])]
    return found
