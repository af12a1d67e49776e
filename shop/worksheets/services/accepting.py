"""Somebody takes a finding on themselves, by name and with a reason."""

from django.db import transaction
from django.utils import timezone

from shop.worksheets.evaluation import evaluate
from shop.worksheets.findings import NEED_ACCEPTANCE
from shop.worksheets.models import Acceptance
from shop.worksheets.services.common import note, open_sheet
from shop.worksheets.services.errors import Refused, UnknownPlace


@transaction.atomic
def accept_finding(worksheet, *, finding_key, reason, by):
    """Accept one finding as it stands now. It is bound to the value found: another value needs another acceptance."""
    held = open_sheet(worksheet)
    reason = reason.strip()
    if not reason:
        raise Refused("Say why it may stay so.")
    if len(reason) > 500:
        raise Refused("Say it in 500 characters or fewer.")
    finding = evaluate(held).finding(finding_key)
    if finding is None:
        raise UnknownPlace("There is no such finding any more; look at the step again.")
    if finding.verdict not in NEED_ACCEPTANCE:
        raise Refused("There is nothing to accept here.")
    taken = Acceptance.objects.create(
        worksheet=held, finding=finding.key, value=finding.value, reason=reason, at=timezone.now(), by=by
    )
    note(held, by=by, what="finding_accepted", text=f"Accepted: {finding.headline} Reason: {reason}",
         finding=finding.key)  # fmt: skip
    return taken


@transaction.atomic
def withdraw_acceptance(worksheet, *, finding_key, by):
    """The acceptance of this finding does not count any more."""
    held = open_sheet(worksheet)
    gone = held.acceptances.filter(finding=finding_key, withdrawn_at=None).update(
        withdrawn_at=timezone.now(), withdrawn_by=by
    )
    if gone:
        note(held, by=by, what="acceptance_withdrawn", text="An acceptance was withdrawn.", finding=finding_key)
