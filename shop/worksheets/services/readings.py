"""Readings: saved once each, never lost, never overwritten."""

import math
from dataclasses import dataclass

from django.db import IntegrityError, transaction
from django.utils import timezone

from shop.staff.models import Workshop
from shop.worksheets import reading_text, staleness
from shop.worksheets.families.parts import MM
from shop.worksheets.models import Reading, Standing
from shop.worksheets.services.common import locked_to_read_into, note, open_sheet, refuse_signed
from shop.worksheets.services.errors import Refused, SheetClosed, UnknownPlace
from shop.worksheets.sheet import Readings, Sheet, is_withdrawn

SAVED, WITHDRAWN, UNREADABLE, RIVAL, CLOSED = "saved", "withdrawn", "unreadable", "rival", "closed"


@dataclass(frozen=True)
class Saved:
    """The answer to one reading.

    `status` is 'saved', 'withdrawn' (an empty field), 'unreadable' (kept as typed; `problem` says what would be
    accepted), 'rival' (the place holds another value that the writer had not seen; both are kept, `rivals` are all
    to choose from, the one that holds first) or 'closed' (the sheet is signed off; nothing was stored and `problem`
    says so). `stale` are keys of steps that this reading made stale. `repeated` says that this client id was
    answered before.
    """

    status: str
    reading: Reading | None = None
    problem: str = ""
    rivals: tuple = ()
    stale: tuple = ()
    repeated: bool = False

    @property
    def basis(self):
        """The id of the reading that stands at the place now: what the next one typed there replaces."""
        if self.status == RIVAL:
            return self.rivals[0].pk
        if self.status == UNREADABLE:
            return self.reading.replaces_id
        return self.reading.pk if self.reading else None


def save_reading(worksheet, *, client_id, stage, step, key, string, raw, gauge="", unit="", basis=None, by):
    """Save what was typed at one place, and say what became of it.

    `client_id` is the browser's own UUID of this reading: the same one again gives the same answer and writes nothing.
    `basis` is the id of the reading that stood at the place when it was typed, None when it stood empty. `unit` is
    what a bare length was typed in, the workshop's own if not given. An empty `raw`
    withdraws what holds. Raises UnknownPlace for a step, key or string that the worksheet does not have.
    """
    try:
        with transaction.atomic():
            return _save(worksheet, client_id, (stage, step, key, string), raw, gauge, unit, basis, by)
    except SheetClosed as closed:
        return Saved(CLOSED, problem=str(closed))
    except IntegrityError:
        # The same id arrived twice at once and the other one was first, or it is another place's.
        earlier = Reading.objects.filter(client_id=client_id).first()
        if earlier is None:
            raise
        return _again(worksheet, earlier)


def _save(worksheet, client_id, place, raw, gauge, unit, basis, by):
    held = locked_to_read_into(worksheet)
    there = Readings.at(held, place)
    earlier = next((one for one in there.readings if one.client_id == client_id), None)
    if earlier:
        return _answer(there, earlier, repeated=True)
    refuse_signed(held)
    field = _field_at(held, place)
    unit = unit or Workshop.here().length_unit
    parsed = reading_text.parse(field, raw, unit=unit)
    stands = there.newest(place)
    reading = Reading.objects.create(
        worksheet=held, client_id=client_id, stage=place[0], step=place[1], key=place[2], string=place[3],
        raw=raw.strip()[:200], value=parsed.value, gauge=gauge[:20],
        unit=unit if field.unit == MM else "", problem=parsed.problem, at=timezone.now(), by=by,
        replaces=stands, standing=_standing(parsed, stands, basis, raw, there.rivals(place)),
    )  # fmt: skip
    stale = staleness.refresh_after(held, reading) if reading.standing == Standing.HOLDS else ()
    return _answer(there.plus(reading), reading, stale=stale)


def _field_at(held, place):
    stage, step, key, string = place
    family = held.family_plan
    field = family.field(step, key, stage) if family else None
    if field is None:
        raise UnknownPlace("This worksheet has no such reading.")
    numbers = [one["number"] for one in held.strings] if field.per == "string" else [None]
    if string not in numbers:
        raise UnknownPlace("This instrument has no such string.")
    return field


def _standing(parsed, stands, basis, raw, rivals):
    if parsed.problem:
        return Standing.UNREADABLE
    unseen = stands is not None and stands.pk != basis
    if unseen and not _same(stands, parsed.value, raw):
        return Standing.RIVAL
    return Standing.RIVAL if rivals else Standing.HOLDS


def _same(stands, value, raw):
    if stands.value is None or value is None:
        return stands.value is value and stands.raw == raw.strip()
    return math.isclose(stands.value, value, rel_tol=0, abs_tol=1e-9)


def _again(worksheet, earlier):
    if earlier.worksheet_id != worksheet.pk:
        raise UnknownPlace("This reading belongs to another worksheet.")
    return _answer(Readings.at(worksheet, earlier.place), earlier, repeated=True)


def _answer(readings, reading, *, stale=(), repeated=False):
    if reading.standing == Standing.UNREADABLE:
        return Saved(UNREADABLE, reading, reading.problem, repeated=repeated)
    rivals = readings.rivals(reading.place)
    if rivals:
        stands = readings.newest(reading.place)
        return Saved(RIVAL, reading, rivals=(*([stands] if stands else []), *rivals), repeated=repeated)
    return Saved(WITHDRAWN if is_withdrawn(reading) else SAVED, reading, stale=stale, repeated=repeated)


@transaction.atomic
def choose_reading(worksheet, *, reading, by):
    """Settle rivals: `reading` (its id) holds, the others of its place are set aside. Nothing is deleted."""
    held = open_sheet(worksheet)
    sheet = Sheet.load_readings(held)
    chosen = next((one for one in sheet.readings if one.pk == int(reading)), None)
    if chosen is None:
        raise UnknownPlace("This worksheet has no such reading.")
    rivals = sheet.rivals(chosen.place)
    stands = sheet.newest(chosen.place)
    if chosen not in (*rivals, stands) or not rivals:
        raise Refused("There is nothing left to choose here: it has been settled.")
    aside = [one.pk for one in (*rivals, stands) if one and one.pk != chosen.pk]
    Reading.objects.filter(pk__in=aside).update(standing=Standing.SET_ASIDE)
    Reading.objects.filter(pk=chosen.pk).update(standing=Standing.HOLDS)
    text = f"Of two readings for {_said(held, chosen)} {chosen.raw or 'nothing'} was chosen."
    note(held, by=by, what="reading_chosen", text=text, reading=chosen.pk, aside=aside)
    chosen.standing = Standing.HOLDS
    sheet = Sheet.load_readings(held)
    return _answer(sheet, chosen, stale=staleness.refresh(sheet, but=chosen.step))


@transaction.atomic
def undo_reading(worksheet, *, reading, by):
    """Undo the newest reading of its place: the one before it holds again. The row stays, as history."""
    held = open_sheet(worksheet)
    sheet = Sheet.load_readings(held)
    last = next((one for one in sheet.readings if one.pk == int(reading)), None)
    if last is None:
        raise UnknownPlace("This worksheet has no such reading.")
    if last.pk not in {one.pk for one in (sheet.newest(last.place), sheet.unreadable(last.place)) if one}:
        raise Refused("Only the newest reading of a field can be undone.")
    Reading.objects.filter(pk=last.pk).update(standing=Standing.UNDONE)
    note(held, by=by, what="reading_undone", text=f"{_said(held, last)}: {last.raw or 'empty'} was undone.",
         reading=last.pk)  # fmt: skip
    sheet = Sheet.load_readings(held)
    stale = staleness.refresh(sheet, but=last.step)
    return Saved(SAVED, sheet.newest(last.place), stale=stale)


def _said(held, reading):
    field = held.family_plan.any_field(reading.key)
    label = field.label if field else reading.key
    return f"{label}, string {reading.string}" if reading.string else label
