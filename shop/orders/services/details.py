"""What is written down about an order, where it stands, and for when it is promised."""

from django.db import transaction

from shop.orders.models import ConditionMark, WorkOrder
from shop.orders.services.common import NotAllowed, locked, note
from shop.orders.services.photos import add_photo
from shop.orders.states import CLOSED, State

MOST_MARKS = 60


@transaction.atomic
def change_details(order, changes, *, by):
    """Write `changes` (field → value), one line of history for each field that really changed. Returns the order."""
    held = locked(order)
    _need_open(held)
    changes = {name: value for name, value in changes.items() if getattr(held, name) != value}
    for name, value in changes.items():
        before = getattr(held, name)
        setattr(held, name, value)
        label = WorkOrder._meta.get_field(name).verbose_name
        note(held, by=by, what="details_changed", text=f"Changed: {label}.", field=name, was=str(before or ""))
    if changes:
        held.save(update_fields=list(changes))
    return held


@transaction.atomic
def promise(order, day, *, by, reason=""):
    """Promise the order for `day`, or, with None, for no day."""
    held = locked(order)
    _need_open(held)
    if held.promised_on == day:
        return held
    before, held.promised_on = held.promised_on, day
    held.save(update_fields=["promised_on"])
    text = f"Promise: {_said(before)} → {_said(day)}" + (f": {reason}" if reason else ".")
    note(held, by=by, what="promised", text=text, was=before.isoformat() if before else "")
    return held


@transaction.atomic
def put_on_rack(order, slot, *, by):
    """Say where the instrument waits."""
    held = locked(order)
    slot = slot.strip()
    if held.rack_slot == slot:
        return held
    before, held.rack_slot = held.rack_slot, slot
    held.save(update_fields=["rack_slot"])
    note(held, by=by, what="racked", text=f"Rack: {before or 'none'} → {slot or 'none'}.")
    return held


@transaction.atomic
def add_note(order, text, *, by):
    """Write a remark into the history. Also a closed order may be remarked on."""
    text = text.strip()
    if not text:
        raise NotAllowed("Write something first.")
    return note(order, by=by, what="noted", text=text)


@transaction.atomic
def add_mark(order, *, side, x, y, note_text, by, file=None):
    """Write down a mark that the instrument has; x and y are fractions of the outline. `file` is its photograph.

    Raises NotAllowed or ImageRefused, sentences; then nothing is written.
    """
    held = locked(order)
    _need_open(held)
    if held.marks.count() >= MOST_MARKS:
        raise NotAllowed(f"There are {MOST_MARKS} marks already.")
    photo = add_photo(held, file, by=by, caption=note_text) if file else None
    mark = ConditionMark.objects.create(order=held, side=side, x=x, y=y, note=note_text, photo=photo)
    note(held, by=by, what="mark_added", text=f"Mark on the {side}: {note_text}.", mark=mark.pk)
    return mark


@transaction.atomic
def photograph_mark(mark, file, *, by):
    """Keep a photograph of a mark that has none. Raises NotAllowed or ImageRefused, sentences."""
    held = locked(mark.order)
    _need_open(held)
    if mark.photo_id:
        raise NotAllowed("This mark has its photograph already; remove that one first.")
    mark.photo = add_photo(held, file, by=by, caption=mark.note)
    mark.save(update_fields=["photo"])
    return mark.photo


@transaction.atomic
def remove_mark(mark, *, by):
    """Take a mark off the outline; the history keeps what it said."""
    held = locked(mark.order)
    _need_open(held)
    was = {"side": mark.side, "x": mark.x, "y": mark.y, "note": mark.note}
    note(held, by=by, what="mark_removed", text=f"Mark removed from the {mark.side}: {mark.note}.", was=was)
    mark.delete()


def _need_open(order):
    if order.state in CLOSED:
        raise NotAllowed(f"The order is {State(order.state).label} and stays as it is.")


def _said(day):
    return f"{day:%a} {day.day} {day:%b %Y}" if day else "none"


