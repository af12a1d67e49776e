"""Every check of one worksheet by plain Python, in the order of `geometry.checks`."""

import math

from tests.benchmarks import plain_strings as one_string
from tests.benchmarks import plain_window as whole

NAN = math.nan


def check_sheet(sheet):
    """All checks of one worksheet: a dict of numbers, of lists over the strings, and of dicts of these."""
    strings = range(sheet["strings"])
    found = neck_part(sheet, strings)
    found["arch"] = arch_part(sheet, strings)
    found["path"], found["path_standard"] = tail_part(sheet, strings, found)
    found["verdicts"] = verdicts(sheet, strings, found)
    found["forces"] = [force_part(sheet, i, found["path"][i], found["path_standard"][i]) for i in strings]
    found["load_n"] = sum(one["tension_n"] for one in found["forces"])
    found["post_bass_n"], found["post_treble_n"] = post_loads(sheet, strings, found["forces"])
    found["bounds"] = [bound(sheet, i, found["path"][i], found["forces"][i]["hold_rad"]) for i in strings]
    lower, upper = ([getattr(one, side) for one in found["bounds"]] for side in ("lower_mm", "upper_mm"))
    found["window"] = whole.stud_window(lower, upper, sheet)
    found["octave"] = [octave_part(sheet, i) for i in strings]
    return found


def neck_part(sheet, strings):
    relief = sheet["relief_mm"]
    found = {"nut_mm": [], "nut_standard_mm": [], "crest_mm": [], "crest_standard_mm": []}
    for i in strings:
        nut = one_string.nut_from_gap_mm(sheet, i, sheet["nut_gap_mm"][i], relief_mm=relief)
        nut_spread = one_string.nut_standard_mm(
            sheet, gap_standard_mm=sheet["u_nut_gap_mm"], relief_standard_mm=sheet["u_relief_mm"]
        )
        crest = one_string.crest_from_height_mm(sheet, i, sheet["height_12_mm"][i], nut_mm=nut, relief_mm=relief)
        spread = one_string.crest_standard_mm(
            sheet, height_standard_mm=sheet["u_height_12_mm"], gap_standard_mm=sheet["u_nut_gap_mm"],
            relief_standard_mm=sheet["u_relief_mm"],
        )  # fmt: skip
        found["nut_mm"].append(nut)
        found["nut_standard_mm"].append(nut_spread + 0.0 * nut)
        found["crest_mm"].append(crest)
        found["crest_standard_mm"].append(spread + 0.0 * crest)
    return found


def arch_part(sheet, strings):
    way = 1.0 - 2.0 ** (-12.0 / 12.0)
    crest, wanted = [], []
    for i in strings:
        low, high = sheet["height_low_mm"][i], sheet["height_high_mm"][i]
        goal = 0.5 * ((high if math.isnan(low) else low) + (low if math.isnan(high) else high))
        crest.append(sheet["height_12_mm"][i] / way)
        wanted.append(goal / way)
    return whole.fit_arch(
        crest, wanted, lateral_mm=sheet["lateral_bridge_mm"], span_mm=sheet["post_span_mm"],
        standard_mm=sheet["u_height_12_mm"] / way,
    )  # fmt: skip


def tail_part(sheet, strings, found):
    paths, spreads = [], []
    for i in strings:
        climb = found["crest_mm"][i] - found["nut_mm"][i]
        front = one_string.front_fall_rad(
            sheet["neck_tilt_rad"], climb_mm=0.0 if math.isnan(climb) else climb, crest_x_mm=sheet["scale_mm"][i]
        )
        leaves = one_string.exit_height_mm(
            sheet["stud_bass_mm"], sheet["stud_treble_mm"], lateral_mm=sheet["lateral_bridge_mm"][i],
            span_mm=sheet["stud_span_mm"], above_stud_mm=sheet["above_stud_mm"][i],
        )  # fmt: skip
        shape = {
            "run_mm": sheet["run_mm"][i], "edge_behind_mm": sheet["edge_behind_mm"][i],
            "edge_below_mm": sheet["edge_below_mm"][i], "bar_radius_mm": sheet["bar_radius_mm"][i],
        }  # fmt: skip
        path = one_string.tail_path(sheet["top_crest_mm"][i], leaves, front_fall_rad=front, **shape)
        shares = one_string.lever(sheet["lateral_bridge_mm"][i], span_mm=sheet["stud_span_mm"])
        by_studs = math.hypot(*shares) * sheet["u_stud_mm"]
        spreads.append(one_string.tail_standard(
            path, drop_mm=sheet["top_crest_mm"][i] - leaves, **shape,
            drop_standard_mm=math.hypot(sheet["u_crest_mm"], by_studs), run_standard_mm=sheet["u_run_mm"],
            behind_standard_mm=sheet["u_edge_behind_mm"], below_standard_mm=sheet["u_edge_below_mm"],
            front_standard_rad=sheet["u_neck_tilt_rad"],
        ))  # fmt: skip
        paths.append(path)
    return paths, spreads


def verdicts(sheet, strings, found):
    judge, paths, spreads = one_string.judge, found["path"], found["path_standard"]
    apart = abs(sheet["stud_treble_mm"] - sheet["stud_bass_mm"])
    return {
        "relief": judge(
            sheet["relief_mm"], low=sheet["relief_low_mm"], high=sheet["relief_high_mm"],
            standard=sheet["u_relief_mm"],
        ),
        "difference": judge(
            apart, low=NAN, high=sheet["difference_most_mm"], standard=math.sqrt(2.0) * sheet["u_stud_mm"]
        ),
        "nut_gap": [
            judge(
                sheet["nut_gap_mm"][i], low=sheet["nut_gap_low_mm"][i], high=sheet["nut_gap_high_mm"][i],
                standard=sheet["u_nut_gap_mm"],
            ) for i in strings
        ],
        "height_12": [
            judge(
                sheet["height_12_mm"][i], low=sheet["height_low_mm"][i], high=sheet["height_high_mm"][i],
                standard=sheet["u_height_12_mm"],
            ) for i in strings
        ],
        "break_angle": [
            judge(
                paths[i].break_rad, low=sheet["break_low_rad"], high=sheet["break_high_rad"],
                standard=spreads[i].break_rad,
            ) for i in strings
        ],
        "clearance": [
            judge(paths[i].clearance_mm, low=sheet["clearance_low_mm"], high=NAN, standard=spreads[i].clearance_mm)
            for i in strings
        ],
        "octave": [
            judge(
                sheet["octave_cents"][i], low=sheet["octave_low_cents"], high=sheet["octave_high_cents"],
                standard=sheet["u_octave_cents"],
            ) for i in strings
        ],
    }  # fmt: skip


def force_part(sheet, i, path, spread):
    tension = one_string.tension_n(
        sheet["mass_kg_per_m"][i], length_mm=sheet["scale_mm"][i], frequency_hz=sheet["frequency_hz"][i]
    )
    pluck = one_string.pluck_side_force_n(
        sheet["pluck_n"], from_saddle_mm=sheet["pluck_share"] * sheet["scale_mm"][i], length_mm=sheet["scale_mm"][i]
    )
    front = path.break_rad - path.rear_fall_rad
    force = one_string.saddle_force(tension, front_fall_rad=front, rear_fall_rad=path.rear_fall_rad)
    groove = sheet["groove_half_angle_rad"]
    pressed = NAN if math.isnan(force.resultant_n) else max(force.resultant_n, 0.0)
    return {
        "tension_n": tension, "pluck_side_n": pluck, "resultant_n": force.resultant_n, "down_n": force.down_n,
        "towards_nut_n": force.towards_nut_n,
        "resultant_standard_n": one_string.force_standard_n(
            force, tension_n=tension, break_rad=path.break_rad, tension_standard_n=sheet["u_tension_n"],
            break_standard_rad=spread.break_rad,
        ),
        "holding_n": one_string.holding_force_n(pressed, half_angle_rad=groove),
        "capstan_cents": one_string.capstan_bound_cents(path.break_rad, friction=sheet["friction"]),
        "hold_rad": one_string.holding_break_rad(pluck, tension_n=tension, half_angle_rad=groove),
    }  # fmt: skip


def post_loads(sheet, strings, forces):
    bass = treble = 0.0
    gone = True
    for i in strings:
        if not math.isnan(forces[i]["down_n"]):
            at_bass, at_treble = one_string.lever(sheet["lateral_bridge_mm"][i], span_mm=sheet["post_span_mm"])
            bass, treble = bass + at_bass * forces[i]["down_n"], treble + at_treble * forces[i]["down_n"]
            gone = False
    return (NAN, NAN) if gone else (bass, treble)


def bound(sheet, i, path, hold):
    return whole.exit_bounds(
        sheet["top_crest_mm"][i], run_mm=sheet["run_mm"][i], front_fall_rad=path.break_rad - path.rear_fall_rad,
        break_low_rad=sheet["break_low_rad"], break_high_rad=sheet["break_high_rad"], hold_rad=hold,
        edge_behind_mm=sheet["edge_behind_mm"][i], edge_below_mm=sheet["edge_below_mm"][i],
        clearance_low_mm=sheet["clearance_low_mm"], bar_radius_mm=sheet["bar_radius_mm"][i],
    )  # fmt: skip


def octave_part(sheet, i):
    cents, whole_mm = sheet["octave_cents"][i], sheet["scale_mm"][i]
    move = one_string.intonation_move_mm(cents, open_mm=whole_mm)
    reach = one_string.saddle_reach(
        move, back_left_mm=sheet["back_left_mm"][i], forward_left_mm=sheet["forward_left_mm"][i],
        facing=sheet["facing"][i], turn_shift_mm=sheet["turn_shift_mm"],
    )  # fmt: skip
    spread = one_string.move_standard_mm(cents, sheet["u_octave_cents"], open_mm=whole_mm)
    return {"octave_move_mm": move, "octave_move_standard_mm": spread, **vars(reach)}
