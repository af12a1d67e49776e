"""A worksheet begins: it takes its own copy of targets, specification and strings, and holds the order."""

from django.db import transaction
from django.utils import timezone

from shop.instruments import services as instruments
from shop.instruments.kinds import Stringing
from shop.orders import services as orders
from shop.orders.models import WorkOrder
from shop.orders.states import State
from shop.staff.models import Workshop
from shop.worksheets import profiles, staleness, tastes
from shop.worksheets.families import family_for
from shop.worksheets.models import BenchRules, Worksheet
from shop.worksheets.services.common import WORKABLE, hold_key, note, open_sheet
from shop.worksheets.services.errors import Refused
from shop.worksheets.sheet import Sheet


@transaction.atomic
def start_worksheet(order, *, by, profile=None, stringing=None):
    """Start the worksheet of `order`, or return the one that is already open.

    `profile` is a TargetProfile (the usual one of the kind unless given), `stringing` a Stringing. An agreed order
    goes on the bench with it.
    """
    order = WorkOrder.objects.select_for_update().select_related("instrument__customer").get(pk=order.pk)
    started = order.worksheets.filter(signed_at=None).first()
    if started:
        return started
    if State(order.state) not in WORKABLE:
        raise Refused(f"The order is {State(order.state).label}: no worksheet can be started on it.")
    worksheet = Worksheet.objects.create(order=order, started_at=timezone.now(), started_by=by,
                                         **_snapshots(order.instrument, profile, stringing))  # fmt: skip
    orders.hold(order, key=hold_key(worksheet), reason="a worksheet is not signed off")
    note(worksheet, by=by, what="worksheet_started", text=f"Worksheet started, targets: {worksheet.profile_name}.")
    if order.state == State.AGREED and order.lines.exists():
        orders.move(order, State.ON_BENCH, by=by)
    return worksheet


def _snapshots(instrument, profile, stringing):
    if family_for(instrument.family) is None:
        raise Refused(f"There is no worksheet for this bridge yet: {instrument.get_family_display()}.")
    profile = profile or profiles.usual_for(instrument.kind)
    targets, taste = tastes.snapshot(instrument, profile)
    return {
        "family": instrument.family,
        "stringing": stringing or instrument.stringing,
        "profile_name": profile.name,
        "targets": targets,
        "taste": taste,
        "rule": BenchRules.here().rule,
        "spec": instruments.effective_spec(instrument),
        "strings": instruments.effective_strings(instrument),
        "threads": {
            "post": instrument.post_thread, "stud": instrument.stud_thread, "saddle": instrument.saddle_thread,
        },
        "reference_pitch_hz": Workshop.here().reference_pitch_hz,
    }  # fmt: skip


@transaction.atomic
def set_stringing(worksheet, *, stringing, by):
    """Strings go through the tailpiece, or are wrapped over its top. Steps that rest on it become stale."""
    held = open_sheet(worksheet)
    stringing = Stringing(stringing)
    if held.stringing != stringing:
        held.stringing = stringing
        held.save(update_fields=["stringing"])
        note(held, by=by, what="stringing_set", text=f"Strings now go {stringing.label}.")
        staleness.refresh(Sheet.load_readings(held))
    return held
