"""Numbers for the drawings, as an evaluation gives them. All invented."""

SIDE = {
    "lateral": [-25.0, -15.0, -5.0, 5.0, 15.0, 25.0],
    "crest": [17.0, 17.6, 17.9, 17.8, 17.3, 16.5],
    "exit": [9.0, 9.0, 9.1, 9.2, 9.3, 9.4],
    "edge": [15.0, 15.6, 15.9, 15.8, 15.3, 14.5],
    "edge_behind": [4.0, 4.5, 5.0, 6.5, 7.0, 7.5],
    "run": [40.0] * 6,
    "front_fall_deg": [3.1] * 6,
    "rear_fall_deg": [11.3] * 6,
    "break_deg": [14.4, 14.8, 15.0, 14.7, 13.8, 13.1],
    "clearance": [1.2, 1.03, 0.9, 0.6, -0.1, 0.67],
    "on_edge": [False, False, False, False, True, False],
    "break_range_deg": [6.0, 17.0],
    "clearance_least": 0.4,
}
WINDOW = {
    "polygon": [[3.0, 3.4], [5.2, 4.2], [6.0, 6.5], [4.0, 6.0]],
    "present": [2.5, 2.8],
    "advised": [3.4, 3.7],
    "difference_most": 1.0,
}
FRET_X = [628.0 * (1.0 - 2.0 ** (-fret / 12.0)) for fret in range(1, 23)]
CROWN = [-0.2 * 4 * (x - FRET_X[0]) * (FRET_X[-1] - x) / (FRET_X[-1] - FRET_X[0]) ** 2 for x in FRET_X]
NECK = {
    "fret": list(range(1, 23)), "fret_x": FRET_X, "crown": CROWN, "relief": 0.2,
    "nut": {6: [0.0, 0.6], 1: [0.0, 0.5]}, "crest": {6: [628.0, 3.6], 1: [628.0, 2.8]},
    "heights": {
        6: [0.6 + 3.0 * x / 628.0 - z for x, z in zip(FRET_X, CROWN, strict=True)],
        1: [0.5 + 2.3 * x / 628.0 - z for x, z in zip(FRET_X, CROWN, strict=True)],
    },
    "targets_12": {6: [1.6, 2.1], 1: [1.2, 1.7]},
}  # fmt: skip
ARCH = {
    "lateral": [-25.0, -15.0, -5.0, 5.0, 15.0, 25.0],
    "crest": [14.0, 14.9, 15.3, 15.2, 14.8, 14.1],
    "needed": [14.1, 14.8, 15.2, 15.3, 15.11, 14.1],
    "correction": [0.1, -0.1, -0.1, 0.1, 0.31, 0.0],
}
SADDLES = {
    "lateral": [-25.0, -15.0, -5.0, 5.0, 15.0, 25.0],
    "room_back": [1.2, 2.5, 3.8, 0.8, 3.0, 4.4],
    "travel": [9.0] * 6,
    "facing": ["flat_rear", "flat_rear", "flat_rear", "flat_front", "flat_front", None],
    "move": [0.4, -0.6, None, 1.4, 0.1, -1.0],
    "reaches": [True, True, None, False, True, True],
    "turn": [False, False, False, True, False, False],
}
OCTAVE = {
    6: [{"cents": 8.0}, {"cents": 3.0}, {"cents": 0.4}], 5: [{"cents": -4.0}], 4: [{"cents": 0.2}], 3: [{"cents": 9.5}],
    2: [], 1: [{"cents": -1.2}],
}  # fmt: skip
BUZZ = {"fret_x": FRET_X, "margin": {str(n): [0.3] * 22 for n in (6, 5, 4, 3, 2, 1)}}
BUZZ["margin"]["4"][7] = -0.12
BUZZ["margin"]["2"][0] = 0.02
CENTS = {"fret_x": FRET_X, "doubt": 0.4, "cents": {str(n): [0.2] * 22 for n in (6, 5, 4, 3, 2, 1)}}
CENTS["cents"]["3"][11] = -4.0
NUMBERS = {
    "strings": [6, 5, 4, 3, 2, 1], "stringing": "through", "why_not": {}, "side": SIDE, "window": WINDOW, "neck": NECK,
    "arch": ARCH, "saddles": SADDLES, "octave": OCTAVE, "octave_range": [-1.5, 1.5],
    "buzz": BUZZ, "cents": CENTS,
}  # fmt: skip
