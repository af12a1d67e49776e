"""The queue of outgoing mail: put in with the change that causes it, claimed by one worker, sent, tried again.

A worker writes a MailTry before it speaks to the server and its end afterwards. A worker that dies between leaves a
try without an end, and a server that has all of a mail and falls silent leaves one whose end nobody knows: the mail may
have gone. One more attempt is made, under the same Message-ID; if that is cut off too the mail fails visibly instead of
risking a third copy.
"""

import logging
import uuid
from datetime import timedelta

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from shop.handover import making
from shop.handover.models import MailState, MailTry, OutgoingMail, PaperDamaged, SilencedAddress
from shop.lib import mail
from shop.lib.pdf import PdfUnavailable

LOG = logging.getLogger(__name__)
LEASE = timedelta(minutes=15)  # far longer than any attempt takes, since the server's answers time out
WAITS = [timedelta(minutes=n) for n in (1, 5, 15, 60, 180, 720, 1440)]
MOST_TRIES = len(WAITS) + 1
MOST_CUT_OFF = 2
CUT_OFF = "Cut off before the server's answer was known; the mail may have gone."
GIVEN_UP = "Sending was cut off twice before the server's answer was known. Ask whether it arrived, then try again."


def deliver(*, most=100, stopping=lambda: False):
    """Send what is due, at most `most` mails, and return how many were tried. Safe beside other workers.

    It stops early when the server cannot be reached: the rest would only fail the same way.
    """
    tried = 0
    while tried < most and not stopping():
        claimed = claim_next()
        if claimed is None:
            break
        tried += 1
        if not _try(*claimed):
            break
    return tried


def claim_next(*, at=None):
    """(mail, its try) of the next due mail, held by this caller alone; None when nothing is due."""
    at = at or timezone.now()
    for pk in OutgoingMail.objects.due(at=at).values_list("pk", flat=True)[:20]:
        claimed = _claim(pk, at)
        if claimed:
            return claimed
    return None


@transaction.atomic
def _claim(pk, at):
    """Only one worker's conditional update finds the row still free."""
    claim = uuid.uuid4()
    found = OutgoingMail.objects.due(at=at).filter(pk=pk).order_by().update(claim=claim, claimed_until=at + LEASE)
    if not found:
        return None
    held = OutgoingMail.objects.get(pk=pk)
    cut_off = held.tries.filter(ended_at=None).update(ended_at=at, outcome=CUT_OFF, was_cut_off=True)
    held.cut_offs += cut_off
    if held.cut_offs >= MOST_CUT_OFF:
        _give_up(held)
        return None
    held.attempts += 1
    held.save(update_fields=["attempts", "cut_offs"])
    return held, MailTry.objects.create(mail=held, claim=claim, begun_at=at)


def _try(held, attempt):
    """Send one mail and write down what came of it. False when there was no server to be had."""
    try:
        _speak_no_more_to_the_silenced(held)
        making.make_what_it_carries(held)
        letter = _letter(held)
        with mail.line_open() as connection:
            mail.send(letter, connection)
    except mail.Refused as error:
        _failed(held, attempt, str(error), for_good=True, silence=error.address_is_wrong)
    except PaperDamaged as error:
        _failed(held, attempt, str(error), for_good=True)
    except mail.Unanswered as error:
        _cut_off(held, attempt, str(error))
    except (mail.NotNow, PdfUnavailable) as error:
        _failed(held, attempt, str(error))
        return not isinstance(error, mail.Unreachable)
    except Exception:  # a fault of ours must not stop the queue for everybody else
        LOG.exception("Mail %s could not be sent", held.pk)
        _failed(held, attempt, "Something went wrong in the app itself; its log says what.")
    else:
        _sent(held, attempt)
    return True


def _speak_no_more_to_the_silenced(held):
    """Its address may have been silenced while it waited."""
    if known := SilencedAddress.objects.filter(address=held.to.lower()).first():
        raise mail.Refused(f"Nothing is sent to {held.to} any more: {known.reason}")


def _letter(held):
    return mail.Letter(
        to=held.to, to_name=held.to_name, sender=held.sender, reply_to=held.reply_to, subject=held.subject,
        text=held.text, html=held.html, message_id=held.message_id,
        attachments=tuple((paper.name, paper.read()) for paper in held.papers.order_by("pk")),
    )  # fmt: skip


@transaction.atomic
def _sent(held, attempt):
    _end(attempt, "sent")
    _ours(held, attempt).update(
        state=MailState.SENT, sent_at=timezone.now(), is_local=settings.MAIL_IS_LOCAL, last_error="", claim=None,
        claimed_until=None,
    )  # fmt: skip


@transaction.atomic
def _failed(held, attempt, why, *, for_good=False, silence=False):
    why = mail.one_line(why, 500)
    _end(attempt, why)
    if for_good or held.attempts >= MOST_TRIES:
        _ours(held, attempt).update(state=MailState.FAILED, last_error=why, claim=None, claimed_until=None)
    else:
        later = timezone.now() + WAITS[held.attempts - 1]
        _ours(held, attempt).update(next_try_at=later, last_error=why, claim=None, claimed_until=None)
    if silence:
        SilencedAddress.objects.get_or_create(
            address=held.to.lower(), defaults={"reason": why, "since": timezone.now()}
        )


@transaction.atomic
def _cut_off(held, attempt, why):
    """The server may have taken it. Once that is tried again; twice is enough."""
    attempt.was_cut_off = True
    held.cut_offs += 1
    _ours(held, attempt).update(cut_offs=held.cut_offs)
    if held.cut_offs >= MOST_CUT_OFF:
        return _failed(held, attempt, GIVEN_UP, for_good=True)
    return _failed(held, attempt, f"{why} The mail may have gone.")


def _give_up(held):
    OutgoingMail.objects.filter(pk=held.pk).update(
        state=MailState.FAILED, last_error=GIVEN_UP, cut_offs=held.cut_offs, claim=None, claimed_until=None
    )


def _end(attempt, outcome):
    attempt.ended_at, attempt.outcome = timezone.now(), outcome
    attempt.save(update_fields=["ended_at", "outcome", "was_cut_off"])


def _ours(held, attempt):
    """The mail while this attempt still holds it: a worker that overslept its claim changes nothing."""
    return OutgoingMail.objects.filter(pk=held.pk, claim=attempt.claim)
