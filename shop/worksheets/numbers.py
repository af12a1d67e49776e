"""Numbers for the drawings, from the same parts of the model as the checks."""

import math

import numpy as np

from geometry.relief import hang_fraction
from shop.worksheets.model.heights import along_neck
from shop.worksheets.model.window import corners_of


def numbers_of(bench, parts=None):
    """Plain lists and floats, JSON-ready; of these `parts` alone if they are given.

    Lists run over the strings from bass to treble; a value that is not known is None; a whole part that cannot be
    worked out is None and `why_not[part]` says why, in a sentence. Lengths are mm.

    - `strings`: string numbers, bass to treble; `stringing`: 'through' or 'wrapped'.
    - `side`, heights above the body's top: `lateral` (y, plus to the treble), `crest`, `exit`, `edge` (height of
      the bridge's rear edge), `edge_behind` (edge behind the crest), `run` (crest to exit), `front_fall_deg`,
      `rear_fall_deg`, `break_deg`, `clearance` (below 0: on the edge), `on_edge` (true or false),
      `edge_bend_deg` (second bend, on the edge), `short_length` (crest to edge), `bar_radius` (0 unless wrapped),
      `break_range_deg` [low, high], `clearance_least`.
    - `window`: `polygon` [[bass stud, treble stud], …] (empty list: no window), `present` [bass, treble],
      `advised` [bass, treble] or None, `difference_most` or None.
    - `neck`: `fret` numbers, `fret_x` (from the nut along the middle), `crown` (height of each crown's middle in
      the fret frame, relief included), `relief`; `heights` {string: height over each fret}; `targets_12`
      {string: [low, high]}; `nut` and `crest` {string: [x, z]}.
    - `arch`: `lateral`, `crest` (above the fret plane), `needed` (what equal heights over this board need),
      `correction` (plus: slot too low by that, minus: too high).
    - `saddles`: `lateral`, `room_back`, `travel`, `facing` ('flat_rear', 'flat_front' or None), `move` (advised,
      plus is back), `reaches` (true, false or None), `turn` (turn round? true or false).
    - `octave`: {string: [{'cents', 'room_back', 'at'} …]} in the order read; `octave_range` [low, high].
    - `buzz`: `fret_x`; `margin` {string: least margin with the string held at each fret from 0, the open one, on}.
    - `cents`: `fret_x`; `cents` {string: how sharp each fret from the first on}; `doubt` in cents, either way.
    - `load`: `tension_n`, `total_n`, `before_n` (None without an earlier sheet).
    """
    found = {name: _part(bench, name, make) for name, make in MAKERS.items() if parts is None or name in parts}
    return {
        "strings": list(bench.sheet.numbers), "stringing": bench.sheet.stringing, **found,
        "octave": _octaves(bench.sheet), "octave_range": list(bench.sheet.target("octave")),
        "why_not": {name: bench.why_not[SOURCES[name]] for name, part in found.items() if part is None},
    }  # fmt: skip


SOURCES = {
    "side": "tail", "window": "window", "neck": "heights", "arch": "arch", "saddles": "saddles", "load": "load",
    "buzz": "buzz", "cents": "fretted",
}  # fmt: skip


def _part(bench, name, make):
    part = bench.part(SOURCES[name])
    return None if part is None else make(bench, part)


def plain(values):
    """An array as a list in which what is not known is None."""
    array = np.asarray(values)
    if array.dtype == bool:
        return array.tolist()
    return [None if not math.isfinite(one) else round(float(one), 6) for one in array.tolist()]


def _side(bench, tail):
    path = tail.path
    return {
        "lateral": plain(tail.lateral), "crest": plain(tail.crest), "exit": plain(path.exit_mm),
        "edge": plain(tail.crest - tail.edge_below), "edge_behind": plain(tail.edge_behind),
        "run": plain(path.exit_behind_mm), "front_fall_deg": plain(np.degrees(tail.front_fall)),
        "rear_fall_deg": plain(np.degrees(path.rear_fall_rad)), "break_deg": plain(np.degrees(path.break_rad)),
        "clearance": plain(path.clearance_mm), "on_edge": plain(path.on_edge),
        "edge_bend_deg": plain(np.degrees(path.edge_bend_rad)), "short_length": plain(path.short_length_mm),
        "bar_radius": plain(tail.bar_radius),
        "break_range_deg": list(bench.sheet.target(bench.sheet.family.angle_target)),
        "clearance_least": bench.sheet.target("edge_clearance")[0],
    }  # fmt: skip


def _window(bench, window):
    tail = bench.part("tail")
    studs, corners = tail.studs, [plain(one) for one in corners_of(window, tail)]
    most, move = window.difference_most, window.advised
    return {
        "polygon": corners, "present": list(studs),
        "advised": None if move is None else [studs[0] + move[0], studs[1] + move[1]],
        "difference_most": most if math.isfinite(most) else None,
    }  # fmt: skip


def _saddles(bench, saddles):
    facing = [bench.sheet.choice("saddle_facing", number) for number in bench.sheet.numbers]
    known = np.isfinite(saddles.reach.left_mm)
    return {
        "lateral": plain(bench.part("layout").lateral) if bench.part("layout") else [None] * len(facing),
        "room_back": plain(saddles.room_back), "travel": saddles.travel,
        "facing": facing, "move": plain(saddles.move),
        "reaches": [bool(one) if there else None for one, there in zip(saddles.reach.reaches, known, strict=True)],
        "turn": plain(saddles.reach.turn),
    }  # fmt: skip


def _neck(bench, heights):
    layout, sheet = bench.part("layout"), bench.sheet
    frets = np.arange(1, int(layout.neck.end_fret) + 1)
    along = along_neck(layout, heights)
    each = list(zip(sheet.numbers, layout.scale, strict=True))
    return {
        "fret": frets.tolist(),
        "fret_x": _fret_x(layout),
        "crown": plain(-heights.relief * hang_fraction(frets, end_fret=layout.neck.end_fret)),
        "relief": heights.relief if heights.relief_read else None,
        "read": {str(number): bool(heights.read[i]) for i, number in enumerate(sheet.numbers)},
        "heights": {str(number): plain(along[:, i]) for i, number in enumerate(sheet.numbers)},
        "targets_12": {str(number): list(sheet.target("height_12", number)) for number in sheet.numbers},
        "nut": {str(number): [0.0, round(float(heights.nut[i]), 6)] for i, (number, _) in enumerate(each)},
        "crest": {
            str(number): [float(scale), round(float(heights.crest[i]), 6)] for i, (number, scale) in enumerate(each)
        },
    }


def _fret_x(layout):
    """Frets from the nut along the middle of the board."""
    frets = np.arange(1, int(layout.neck.end_fret) + 1)
    return plain(float(np.mean(layout.scale)) * (1.0 - np.exp2(-frets / 12.0)))


def _buzz(bench, buzz):
    margin = {str(number): plain(buzz.margin_mm[:, i]) for i, number in enumerate(bench.sheet.numbers)}
    return {"fret_x": _fret_x(bench.part("layout")), "margin": margin}


def _cents(bench, fretted):
    cents = {str(number): plain(fretted.cents[:, i]) for i, number in enumerate(bench.sheet.numbers)}
    return {"fret_x": _fret_x(bench.part("layout")), "cents": cents, "doubt": fretted.doubt}


def _arch(bench, arch):
    return {
        "lateral": plain(bench.part("layout").lateral), "crest": plain(arch.crest), "needed": plain(arch.needed),
        "correction": plain(-arch.fit.error_mm),
    }  # fmt: skip


def _load(_bench, load):
    return {"tension_n": plain(load.tension), "total_n": load.total, "before_n": load.before}


def _octaves(sheet):
    """Every round of every string, with where its saddle stood then."""
    return {str(number): [_round(sheet, number, one) for one in sheet.series("octave", number)]
            for number in sheet.numbers}  # fmt: skip


def _round(sheet, number, reading):
    rooms = [one for one in sheet.series("saddle_room_back", number) if one.pk < reading.pk]
    return {"cents": reading.value, "room_back": rooms[-1].value if rooms else None, "at": reading.at.isoformat()}


MAKERS = {
    "side": _side, "window": _window, "neck": _neck, "arch": _arch, "saddles": _saddles, "load": _load,
    "buzz": _buzz, "cents": _cents,
}  # fmt: skip
