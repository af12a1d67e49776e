"""What people do with the queue of outgoing mail."""

from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from shop.handover.models import MailState, OutgoingMail, SilencedAddress
from shop.orders import services as orders
from shop.orders.services import NotAllowed
from shop.staff import health


def counts(person=None):
    """{'waiting', 'failed'}: how many mails wait, and how many need somebody; for `person`, of those they see."""
    mails = OutgoingMail.objects.all() if person is None else OutgoingMail.objects.for_person(person)
    return {
        "waiting": mails.filter(state=MailState.WAITING).count(),
        "failed": mails.filter(state=MailState.FAILED).count(),
    }


@transaction.atomic
def try_again(mail, *, by):
    """Put a failed, withdrawn or locally kept mail in the queue again, under its own Message-ID.

    Raises NotAllowed for one that waits, that is on its way or that a server has taken.
    """
    held = OutgoingMail.objects.select_for_update().get(pk=mail.pk)
    if held.state == MailState.WAITING:
        return _hurry(held)
    if held.state == MailState.SENT and not held.is_local:
        raise NotAllowed("A mail server has taken this mail; it is not sent twice.")
    if SilencedAddress.objects.filter(address=held.to.lower()).exists():
        raise NotAllowed(f"Nothing is sent to {held.to} any more; lift that first, or correct the address.")
    held.state, held.attempts, held.cut_offs, held.next_try_at = MailState.WAITING, 0, 0, timezone.now()
    held.save(update_fields=["state", "attempts", "cut_offs", "next_try_at"])
    if held.order:
        orders.note(held.order, by=by, what="mailed", text=f"Mail “{held.subject}” put in the queue again.")
    return held


def _hurry(held):
    """A waiting mail is tried at once instead of when its wait is over."""
    if held.claimed_until and held.claimed_until > timezone.now():
        raise NotAllowed("This mail is on its way just now.")
    held.next_try_at = timezone.now()
    held.save(update_fields=["next_try_at"])
    return held


@transaction.atomic
def withdraw(mail, *, by):
    """Take a mail out of the queue before it goes. Raises NotAllowed when it is on its way or gone."""
    held = OutgoingMail.objects.select_for_update().get(pk=mail.pk)
    if held.state not in (MailState.WAITING, MailState.FAILED):
        raise NotAllowed("Only a mail that has not gone yet can be withdrawn.")
    if held.claimed_until and held.claimed_until > timezone.now():
        raise NotAllowed("This mail is on its way just now.")
    held.state = MailState.WITHDRAWN
    held.save(update_fields=["state"])
    if held.order:
        orders.note(held.order, by=by, what="mailed", text=f"Mail “{held.subject}” withdrawn.")
    return held


def silence(*, address, reason, by):
    """Send nothing to `address` from now on. The first reason stays."""
    return SilencedAddress.objects.get_or_create(
        address=address.lower(), defaults={"reason": reason, "since": timezone.now(), "by": by}
    )[0]


def speak_again(silenced):
    silenced.delete()


OVERDUE = timedelta(minutes=30)


def mail_health():
    """Whether the worker keeps up: how long the mail that should have gone first is overdue."""
    now, known = timezone.now(), counts()
    first = OutgoingMail.objects.due(at=now).first()
    overdue = max(now - first.next_try_at, timedelta(0)) if first else timedelta(0)
    state = health.BAD if overdue > OVERDUE else health.LOW if known["failed"] else health.GOOD
    says = f"{known['waiting']} wait, {known['failed']} failed and want somebody."
    if overdue > OVERDUE:
        says += f" The first is {overdue.total_seconds() / 60:.0f} minutes overdue: does the mail worker run?"
    return health.Check("mail", state, says, known | {"overdue_s": round(overdue.total_seconds())})
