"""Sign-off, and opening a worksheet again."""

from django.db import transaction
from django.utils import timezone

from shop.orders import services as orders
from shop.orders.states import State
from shop.worksheets import outcome, time_spent
from shop.worksheets.evaluation import evaluate
from shop.worksheets.services.common import hold_key, locked, note, open_sheet
from shop.worksheets.services.errors import NotYet, Refused


@transaction.atomic
def sign_off(worksheet, *, by, watch="", next_check_on=None):
    """Sign the worksheet: keep what was found, lift its hold, and let the order be checked when nothing else holds it.

    Raises NotYet with every reason, as sentences, while something is open.
    """
    held = open_sheet(worksheet)
    evaluation = evaluate(held)
    reasons = reasons_against(held, evaluation)
    if len(watch) > 1000:
        reasons.append("What to watch has at most 1000 characters.")
    if reasons:
        raise NotYet(reasons)
    held.signed_at, held.signed_by = timezone.now(), by
    held.watch, held.next_check_on = watch.strip(), next_check_on
    held.outcome = outcome.of(held, evaluation)
    held.spent_seconds = time_spent.whole_of(held)
    held.save(update_fields=["signed_at", "signed_by", "watch", "next_check_on", "outcome", "spent_seconds"])
    orders.lift(held.order, key=hold_key(held))
    note(held, by=by, what="worksheet_signed", text=_signed_text(evaluation, held))
    if held.order.state == State.ON_BENCH and not held.order.holds.filter(lifted_at=None).exists():
        orders.move(held.order, State.CHECKED, by=by, own=True)
    return held


def _signed_text(evaluation, held):
    accepted = sum(1 for one in evaluation.findings if one.accepted)
    took = time_spent.said(held.spent_seconds)
    took = f" {took} at the bench." if took else ""
    if not accepted:
        return f"Worksheet signed off; nothing out of range.{took}"
    return f"Worksheet signed off, with {accepted} finding{'s' if accepted > 1 else ''} accepted by name.{took}"


def reasons_against(held, evaluation):
    """Why the sheet cannot be signed, one sentence each; empty when it can."""
    sheet = evaluation.sheet
    found = []
    if held.order.state != State.ON_BENCH:
        label = State(held.order.state).label
        found.append(f"The order is {label}; it is signed off only while it is on the bench.")
    if sheet.family is None:
        return [*found, "There is no worksheet for this kind of bridge yet."]
    for step in sheet.family.steps:
        mark = sheet.marks.get(step.key)
        if mark is None:
            found.append(f"{step.title}: neither done nor left out.")
        elif mark.stale_because:
            found.append(f"{step.title}: look again. {mark.stale_because}")
    found += [f"Two readings wait to be chosen from: {_said(sheet, one)}." for one in sheet.all_rivals]
    found += [one.headline for one in evaluation.open_findings]
    return found


def _said(sheet, reading):
    label = sheet.family.any_field(reading.key).label
    return f"{label} of string {reading.string}" if reading.string else label


@transaction.atomic
def reopen(worksheet, *, reason, by):
    """Open a signed worksheet again; the order goes back to the bench. Not once it is collected."""
    reason = reason.strip()
    if not reason:
        raise Refused("Say why the worksheet is opened again.")
    held = locked(worksheet)
    if not held.is_signed:
        raise Refused("This worksheet is open already.")
    state = State(held.order.state)
    if state not in (State.ON_BENCH, State.CHECKED, State.READY):
        raise Refused(f"The order is {state.label}: its worksheet stays as it is.")
    held.signed_at = held.signed_by = None
    held.save(update_fields=["signed_at", "signed_by"])
    orders.hold(held.order, key=hold_key(held), reason="a worksheet is not signed off")
    note(held, by=by, what="worksheet_reopened", text=f"Worksheet opened again: {reason}"[:1000])
    if state != State.ON_BENCH:
        orders.move(held.order, State.ON_BENCH, by=by, reason="worksheet opened again")
    return held
