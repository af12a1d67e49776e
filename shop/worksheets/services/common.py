"""What every service of the worksheet begins and ends with."""

from shop.orders import services as orders
from shop.orders.states import State
from shop.worksheets.models import Worksheet
from shop.worksheets.services.errors import SheetClosed, UnknownPlace

WORKABLE = frozenset(set(State) - {State.CHECKED, State.READY, State.COLLECTED, State.UNCOLLECTED})


def locked(worksheet):
    """The worksheet as it stands now, locked until the transaction ends."""
    return Worksheet.objects.select_for_update().select_related("order").get(pk=worksheet.pk)


def locked_to_read_into(worksheet):
    """The same with no more than says where a reading may be written."""
    return Worksheet.objects.select_for_update().only("family", "strings", "signed_at").get(pk=worksheet.pk)


def open_sheet(worksheet):
    """The locked worksheet, or SheetClosed when it is signed off."""
    held = locked(worksheet)
    refuse_signed(held)
    return held


def refuse_signed(held):
    if held.is_signed:
        raise SheetClosed("This worksheet is signed off. Reopen it before you change anything.")


def step_of(worksheet, step_key):
    """The step of the worksheet's family, or UnknownPlace."""
    family = worksheet.family_plan
    step = family.step(step_key) if family else None
    if step is None:
        raise UnknownPlace("This worksheet has no such step.")
    return step


def hold_key(worksheet):
    return f"worksheet:{worksheet.pk}"


def note(worksheet, *, by, what, text, **data):
    """Write one line of the order's history."""
    return orders.note(worksheet.order, by=by, what=what, text=text, worksheet=worksheet.pk, **data)
