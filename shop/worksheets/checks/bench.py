"""What the checks share: the sheet, how figures are said, and the models worked out from the readings, once each."""

from dataclasses import dataclass

from shop.worksheets.sheet import Sheet
from shop.worksheets.wording.said import Said


@dataclass(frozen=True)
class Bench:
    sheet: Sheet
    said: Said
    strings_before: list | None = None

    def step_of(self, check):
        """The step on which a check's finding is mended: neither the first nor the last look at everything."""
        steps = [one.key for one in self.sheet.family.steps if check in one.checks]
        return next((key for key in steps if key not in ("inspect", "left")), steps[0] if steps else "")

    def has_check(self, check):
        return any(check in step.checks for step in self.sheet.family.steps)

    def numbers(self):
        """Numbers for the drawings: plain lists and floats, JSON-ready.

        Lists run over the strings from bass to treble; a value that is not known is None; a whole part that cannot be
        worked out is None and `why_not[part]` says why, in a sentence. Lengths are mm.

        - `strings`: string numbers, bass to treble; `stringing`: 'through' or 'wrapped'.
        - `side`, heights above the body's top: `lateral` (y, plus to the treble), `crest`, `exit`, `edge` (height of
          the bridge's rear edge), `edge_behind` (edge behind the crest), `run` (crest to exit), `front_fall_deg`,
          `rear_fall_deg`, `break_deg`, `clearance` (below 0: on the edge), `on_edge` (true or false),
          `edge_bend_deg` (second bend, on the edge), `short_length` (crest to edge), `break_range_deg` [low, high],
          `clearance_least`.
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
        - `load`: `tension_n`, `total_n`, `before_n` (None without an earlier sheet).
        """
        return {"strings": list(self.sheet.numbers), "stringing": self.sheet.stringing, "why_not": {}}
