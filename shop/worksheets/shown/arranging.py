"""Arranges the cells of a step as they are read: a row of strings, single fields side by side, answers together."""

from shop.worksheets.device import kind_of_reading
from shop.worksheets.families.parts import CHOICE, TEXT, YES_NO
from shop.worksheets.gauges import GAUGES
from shop.worksheets.shown.cells import Group
from shop.worksheets.shown.making import FACTS
from shop.worksheets.shown.short import unit_words

MOST_IN_A_ROW = 7


class Arranger:
    """`maker` makes the cells; `mirrored` for a left-handed player; `used` maps a kind of reading to its last gauge."""

    def __init__(self, maker, *, mirrored, used):
        self.maker, self.mirrored, self.used = maker, mirrored, used or {}

    def groups(self):
        made, singles, answers = [], [], []
        for field in self.maker.step.fields:
            cells = [self.maker.cell(place) for place in self.maker.places if place.field is field]
            kind = kind_of(field)
            if singles and (kind != "singles" or together(field) != together(singles[-1].place.field)):
                made.append(self._singles(singles))
                singles = []
            if kind == "singles":
                singles += cells
            elif kind == "answers":
                answers += cells
            else:
                made.append(self._row(kind, field, cells))
        made += [self._singles(singles)] if singles else []
        return made + ([Group("answers", "", "", "", tuple(answers))] if answers else [])

    def _row(self, kind, field, cells):
        cells = tuple(reversed(cells) if self.mirrored else cells)
        columns = len(cells) if len(cells) <= MOST_IN_A_ROW else -(-len(cells) // 2)
        return Group(kind, field.label, field.help, unit_words(field.unit, self.maker.said), cells, FACTS,
                     gauges_for(field), self._gauge_now(cells), columns)  # fmt: skip

    def _singles(self, cells):
        field = cells[0].place.field
        cells = tuple(paired(cells) if self.mirrored else cells)
        if len(cells) == 1:
            return self._row("singles", field, cells)
        return Group("singles", "", "", unit_words(field.unit, self.maker.said), cells, FACTS, gauges_for(field),
                     self._gauge_now(cells), min(len(cells), 2))  # fmt: skip

    def _gauge_now(self, cells):
        kinds = (kind_of_reading(one.place.key) for one in cells)
        return next((self.used[kind] for kind in kinds if kind in self.used), "")


def together(field):
    """What single fields must share to stand in one group: how they are read, and in what."""
    return field.gauges, field.unit


def kind_of(field):
    if field.unit == TEXT:
        return "text"
    if field.unit == YES_NO:
        return "answers"
    if field.unit == CHOICE:
        return "choices"
    return "strings" if field.per == "string" else "singles"


def gauges_for(field):
    """The gauges that can read `field`, the usual ones first."""
    others = [key for key, one in GAUGES.items() if one.unit == field.unit and key not in field.gauges]
    return tuple(GAUGES[key] for key in (*field.gauges, *others)) if field.gauges else ()


def paired(cells):
    """Bass and treble side by side, the treble first: as a left-handed player sees them."""
    turned = list(cells)
    for place in range(len(turned) - 1):
        if turned[place].place.key.endswith("_bass") and turned[place + 1].place.key.endswith("_treble"):
            turned[place], turned[place + 1] = turned[place + 1], turned[place]
    return turned
