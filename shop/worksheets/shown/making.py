"""Makes the cells of a step from its sheet: what stands in each, how it is judged, and what is shown beside it."""

from shop.worksheets.families.parts import BENCH, LEFT, NUMBERS, RECEIVED
from shop.worksheets.gauges import gauge_for
from shop.worksheets.judging import Claim, Source, judge_all
from shop.worksheets.shown.cells import Cell
from shop.worksheets.shown.short import short, short_range
from shop.worksheets.shown.typed import as_typed
from shop.worksheets.shown.verdicts import VERDICTS

FACTS = ("target", "read before", "as received", "left last time")


class CellMaker:
    """Makes the cells of a step from a sheet. `last_left` maps (key, string) to how it was left on the last visit."""

    def __init__(self, sheet, step, *, said, last_left):
        self.sheet, self.step, self.said, self.last_left = sheet, step, said, last_left
        self.received, self.later = sheet.only(RECEIVED), sheet.only(BENCH, LEFT)
        self.places = sheet.family.places(sheet.numbers, step.key)
        self.verdicts = self._verdicts()

    def cell(self, place):
        at = (place.stage, self.step.key, place.key, place.string)
        stands, unreadable, rivals = self.sheet.newest(at), self.sheet.unreadable(at), self.sheet.rivals(at)
        holding = self.sheet.holding(at)
        shown = unreadable or holding
        if rivals and holding:
            rivals = (holding, *rivals)
        return Cell(
            place=place,
            basis=stands.pk if stands else None,
            value=as_typed(shown, self.said.unit) if shown else "",
            state="rival" if rivals else "unreadable" if unreadable else "saved" if holding else "",
            problem=unreadable.problem if unreadable else "",
            rivals=rivals,
            verdict=self.verdicts.get(at),
            facts=self._facts(place, at) if place.field.unit in NUMBERS else ("",) * len(FACTS),
            gauge=holding.gauge if holding else "",
            can_undo=(unreadable or stands).pk if (unreadable or stands) and not rivals else None,
        )

    def _facts(self, place, at):
        field, key = place.field, (place.key, place.string)
        low, high = self.sheet.target(field.target_key, place.string) if field.target_key else (None, None)
        earlier = self.later.now(*key)
        if earlier is not None and earlier.place == at:
            earlier = None
        came = self.received.now(*key) if place.stage != RECEIVED else None
        last = self.last_left.get(key)
        return (
            short_range(self.said, low, high, field.unit),
            self._short(earlier, field) if place.stage != RECEIVED else "",
            self._short(came, field),
            self._short(last, field),
        )

    def _short(self, reading, field):
        return short(self.said, reading.value, field.unit) if reading and reading.value is not None else ""

    def _verdicts(self):
        """A verdict for each number that stands, judged by its own gauge against the target."""
        claims = {}
        for place in self.places:
            at = (place.stage, self.step.key, place.key, place.string)
            reading, field = self.sheet.holding(at), place.field
            if reading is None or reading.value is None or not field.target_key:
                continue
            low, high = self.sheet.target(field.target_key, place.string)
            gauge = gauge_for(reading.gauge, field)
            sources = (Source(field, gauge, gauge.standard),) if gauge else ()
            claims[at] = Claim(reading.value, low, high, sources)
        judged = judge_all(list(claims.values()), rule=self.sheet.rule)
        return {at: VERDICTS.get(one.verdict) for at, one in zip(claims, judged, strict=True)}
