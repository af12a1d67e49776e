"""The strings behind their crests, in the body frame: studs, exits, rear edge, falls and bends."""

from dataclasses import dataclass

import numpy as np

from geometry.bridge import lever
from geometry.tail import TailPath, exit_height_mm, front_fall_rad, tail_path
from shop.worksheets.families.parts import STUDS as BY_STUDS
from shop.worksheets.families.parts import WRAP
from shop.worksheets.model.lacking import Lacking, believed, spec_values
from shop.worksheets.model.layout import per_string
from shop.worksheets.together import ask, asking

WRAPPED = "wrapped"
NEAREST_EDGE = 0.3  # mm; a crest cannot stand nearer to the bridge's rear edge than its own width
FORWARD = {"flat_rear": -1.0, "flat_front": 1.0}  # which way a saddle carries its crest from its middle
OUTER = ("crest_height_bass", "crest_height_treble")
STUDS = ("stud_bass", "stud_treble")
EDGE_SPEC = ("edge_behind_crest_mm", "edge_below_crest_mm")
STUD_SPEC = {"through": "exit_above_stud_mm", "wrapped": "wrap_radius_mm"}


def spec_of(sheet):
    """The record's values that the strings' way behind the crest rests on, for this family and stringing."""
    edge = EDGE_SPEC if sheet.family.has_edge else ()
    if sheet.family.tail == BY_STUDS:
        return (*edge, "neck_tilt_deg", "tail_run_mm", "stud_span_mm", STUD_SPEC[sheet.stringing])
    return (*edge, "neck_tilt_deg", *sheet.family.tail_spec)


@dataclass(frozen=True)
class Tail:
    """Per string, bass to treble; lengths mm, heights above the top.

    `exit` is where the string leaves the tail, or the bar's centre when it is wrapped; `run` the level distance to it.
    `edge_behind`, `edge_below`: the bridge's rear edge, NaN where the family has none. `gap_read`: whether the gap over
    the edge was read. `crest_share` and `stud_share` say how much of each side's reading arrives at each string, shape
    (strings, 2). For a tail on studs: `studs` (bass, treble), `stud_span`, and `above_stud`, exit less the studs' line.
    """

    lateral: np.ndarray
    crest: np.ndarray
    exit: np.ndarray
    run: np.ndarray
    edge_behind: np.ndarray
    edge_below: np.ndarray
    front_fall: np.ndarray
    bar_radius: np.ndarray
    path: TailPath
    gap_read: np.ndarray
    crest_share: np.ndarray
    stud_share: np.ndarray
    studs: tuple | None = None
    stud_span: float = np.nan
    above_stud: float = 0.0


@asking
def tail_of(sheet, layout, heights):
    if not sheet.family.tail:
        raise Lacking("The angle behind the crest is not read on this kind of bridge.")
    record = dict(zip(spec_of(sheet), spec_values(sheet, *spec_of(sheet)), strict=True))
    crest_bass, crest_treble = _readings(sheet, OUTER)
    share = _between(layout.lateral)
    crest = crest_bass * share[:, 0] + crest_treble * share[:, 1] + _arch_over_outer(heights.crest, share)
    leaves = yield from _leaves(sheet, layout, record, crest)
    behind, shift = _edge(sheet, record)
    tilt = np.full(len(crest), np.radians(record["neck_tilt_deg"]))
    known = {
        "crest_mm": crest, "exit_mm": leaves["exit"], "run_mm": leaves["run"] + shift, "edge_behind_mm": behind,
        "bar_radius_mm": leaves["bar_radius"],
        "front_fall_rad": (
            yield ask(front_fall_rad, tilt, nut_mm=heights.nut, crest_mm=heights.crest, crest_x_mm=layout.scale)
        ),
    }  # fmt: skip
    below, gap_read = yield from _edge_below(sheet, record.get("edge_below_crest_mm", np.nan), known)
    return Tail(
        lateral=layout.lateral, crest=known["crest_mm"], exit=known["exit_mm"], run=known["run_mm"],
        edge_behind=behind, edge_below=below, front_fall=known["front_fall_rad"], bar_radius=leaves["bar_radius"],
        path=(yield ask(tail_path, **known, edge_below_mm=below)), gap_read=gap_read,
        # A wrap goes up and down with its crest: how high the crest stands changes nothing behind it.
        crest_share=share * (sheet.family.tail != WRAP), **leaves["studs"],
    )  # fmt: skip


def _leaves(sheet, layout, record, crest):
    """Where the strings leave the tail: exit, run, bar radius, and the studs' part where there are studs."""
    nothing = np.zeros(len(sheet.strings))
    if sheet.family.tail == WRAP:
        run, drop, radius = (record[key] for key in sheet.family.tail_spec)
        return {"exit": crest - drop, "run": nothing + run, "bar_radius": radius + _half(sheet.strings),
                "studs": {"stud_share": np.zeros((len(nothing), 2))}}  # fmt: skip
    if sheet.family.tail != BY_STUDS:
        run, height = (record[key] for key in sheet.family.tail_spec)
        return {"exit": nothing + height, "run": nothing + run, "bar_radius": nothing,
                "studs": {"stud_share": np.zeros((len(nothing), 2))}}  # fmt: skip
    studs, span = _readings(sheet, STUDS), record["stud_span_mm"]
    above = record[STUD_SPEC[sheet.stringing]]
    bar = _bar_radius(sheet, above)
    leaves = yield ask(
        exit_height_mm, *studs, lateral_mm=layout.lateral, span_mm=span, above_stud_mm=nothing + above
    )  # fmt: skip
    share = yield ask(lever, layout.lateral, span_mm=span)
    return {"exit": leaves, "run": record["tail_run_mm"] + bar, "bar_radius": bar,
            "studs": {"studs": studs, "stud_span": span, "above_stud": above, "stud_share": share}}  # fmt: skip


def _readings(sheet, keys):
    found = [sheet.value(key) for key in keys]
    if None in found:
        missing = [sheet.family.any_field(key).label for key, value in zip(keys, found, strict=True) if value is None]
        raise Lacking(f"Not read yet: {'; '.join(missing)}.")
    return tuple(found)


def _between(lateral):
    """How much of the lowest and of the highest string's crest reading arrives at each string."""
    spread = lateral[-1] - lateral[0]
    across = (lateral - lateral[0]) / spread if spread else np.full(lateral.shape, 0.5)
    return np.stack([1.0 - across, across], axis=-1)


def _arch_over_outer(crest, share):
    """How much each crest stands above the straight line between the outer two."""
    return crest - (share * np.array([crest[0], crest[-1]])).sum(axis=-1)


def _edge(sheet, record):
    """Edge behind each crest, as read or as the record's figure carried along with the saddle's place and direction;

    and how much further back than the record's figure that is, which the run to the tail shares.
    """
    usual = record.get("edge_behind_crest_mm")
    if usual is None:
        nothing = np.zeros(len(sheet.strings))
        return nothing + np.nan, nothing
    travel, turn = believed(sheet, "saddle_travel_mm"), believed(sheet, "saddle_turn_mm")
    room = per_string(sheet, "saddle_room_back")
    forward = np.where(np.isfinite(room), room - (travel or 0.0) / 2, 0.0) if travel else 0.0
    side = np.array([FORWARD.get(sheet.choice("saddle_facing", number), 0.0) for number in sheet.numbers])
    read = per_string(sheet, "crest_to_edge")
    behind = np.where(np.isfinite(read), read, usual + forward + side * (turn or 0.0) / 2)
    behind = np.maximum(behind, NEAREST_EDGE)
    return behind, behind - usual


def _bar_radius(sheet, above):
    """Radius at which each string's middle wraps over the bar; 0 where it goes through."""
    if sheet.stringing != WRAPPED:
        return np.zeros(len(sheet.strings))
    return above + _half(sheet.strings)


def _half(strings):
    """From a string's side to its middle."""
    return np.array([(one.get("diameter_mm") or 0.0) / 2 for one in strings])


def _edge_below(sheet, usual, known):
    """Edge below each crest. A gap that was read after the heights tells it better than the record does."""
    newest = [sheet.now(key) for key in (*OUTER, *STUDS)]
    settled = max(one.pk for one in newest if one)
    gaps = [sheet.now("edge_gap", number) for number in sheet.numbers]
    gap = np.array([one.value if one and one.value is not None and one.pk > settled else np.nan for one in gaps])
    usual = np.full(len(gap), usual)
    straight = yield ask(tail_path, **known, edge_below_mm=usual)
    fall = usual - straight.clearance_mm  # how far the straight line falls from the crest to the edge
    # A string that touches may press on the edge by any amount: the record says how much, at least nothing.
    told = np.where(gap > 0, fall + gap, np.minimum(usual, fall))
    use = np.isfinite(gap) & np.isfinite(fall)
    return np.where(use, told, usual), use
