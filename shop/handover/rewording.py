"""What the owner does with the words of mails."""

from dataclasses import dataclass

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from shop.handover import mails, sample
from shop.handover.models import MailState, MailWording, OutgoingMail
from shop.handover.wordings import MAILS
from shop.handover.writing import Words, words_from, written
from shop.lib import mail
from shop.orders.services import NotAllowed


@dataclass(frozen=True)
class Listed:
    """A mail in the list of all; `place` is where it stands in the course of a job."""

    name: str
    place: int
    title: str
    when: str
    words: Words

    @property
    def standing(self):
        return "your own" if self.words.is_own else "the usual ones"


def all_words():
    """[Listed] of every mail. One query."""
    own = {one.name: one for one in MailWording.objects.all()}
    return [
        Listed(name, place, one.title, one.when, words_from(name, own.get(name)))
        for place, (name, one) in enumerate(MAILS.items())
    ]


@transaction.atomic
def reword(name, *, subject, body, days=None, by):
    """Use these words from now on. Those that are the usual ones again are not kept."""
    usual = MAILS[name]
    if (subject, body) == (usual.subject, usual.body) and days in (None, usual.days):
        return use_usual(name)
    return MailWording.objects.update_or_create(
        name=name,
        defaults={"subject": subject, "body": body, "days": days, "changed_at": timezone.now(), "by": by},
    )[0]


def use_usual(name):
    """Go back to the words that the app came with."""
    MailWording.objects.filter(name=name).delete()


def send_test(name, *, workshop, by):
    """Mail the words as they are kept, about an order that never was, to the workshop itself.

    Raises NotAllowed when the workshop has no address.
    """
    if not workshop.email:
        raise NotAllowed("Write the workshop’s e-mail address in its details first: the test goes there.")
    subject, text, html = written(name, sample.given(workshop))
    return OutgoingMail.objects.create(
        name="test", to=workshop.email, to_name=mail.one_line(workshop.name, 120), sender=mails.sender(workshop),
        subject=mail.one_line(f"Test: {subject}"), text=text, html=html,
        message_id=mail.new_message_id(settings.PUBLIC_ADDRESS), state=MailState.WAITING, next_try_at=timezone.now(),
        queued_at=timezone.now(), by=by,
    )  # fmt: skip
