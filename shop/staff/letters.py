"""The letter with a link to a new password.

That one is due is a note on the person; the link is made at the moment of sending and kept nowhere, so that nobody
who may see the workshop's mail can take over an account.
"""

import logging
from datetime import timedelta

from django.conf import settings
from django.contrib.auth.tokens import default_token_generator
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone
from django.utils.encoding import force_bytes
from django.utils.http import urlsafe_base64_encode

from shop.lib import mail
from shop.staff import audit
from shop.staff.models import Person, Workshop

GIVEN_UP_AFTER = timedelta(hours=1)
log = logging.getLogger("shop.staff.letters")


def ask(text):
    """Somebody forgot their password, and typed their name or e-mail. Nothing tells whether anybody was found."""
    words = text.strip()
    found = Person.objects.filter(Q(username__iexact=words) | Q(email__iexact=words), is_active=True).exclude(email="")
    # One statement, whether there is such a person or not.
    found.filter(Q(reset_asked_at=None)).update(reset_asked_at=timezone.now())


def send_waiting():
    """Send the letters that are due. Returns how many were tried; one that fails is tried again for an hour."""
    waiting = list(Person.objects.filter(reset_asked_at__isnull=False, is_active=True))
    tried = 0
    for person in waiting:
        # Whoever clears the note sends the letter: of two workers only one does.
        if Person.objects.filter(pk=person.pk, reset_asked_at=person.reset_asked_at).update(reset_asked_at=None):
            tried += 1
            _send(person)
    return tried


def _send(person):
    workshop = Workshop.here()
    key, token = urlsafe_base64_encode(force_bytes(person.pk)), default_token_generator.make_token(person)
    link = f"{settings.PUBLIC_ADDRESS}{reverse('new-password', args=[key, token])}"
    minutes = settings.PASSWORD_RESET_TIMEOUT // 60
    subject, text, html = mail.written("password", {"link": link, "minutes": minutes, "workshop": workshop,
                                                    "person": person})  # fmt: skip
    sender = mail.address(workshop.name, settings.MAIL_FROM or workshop.email or settings.DEFAULT_FROM_EMAIL)
    letter = mail.Letter(
        to=person.email, to_name=str(person), sender=sender, reply_to=workshop.email, subject=subject, text=text,
        html=html, message_id=mail.new_message_id(settings.PUBLIC_ADDRESS),
    )  # fmt: skip
    try:
        with mail.line_open() as line:
            mail.send(letter, line)
    except mail.Refused as problem:
        log.warning("a letter with a new password was refused: %s", type(problem).__name__)
    except mail.NotNow:
        _again(person)
    else:
        audit.write(audit.AuditKind.ENTRY, f"A link to a new password was mailed to {person}.", by=person)


def _again(person):
    if timezone.now() - person.reset_asked_at < GIVEN_UP_AFTER:
        Person.objects.filter(pk=person.pk, reset_asked_at=None).update(reset_asked_at=person.reset_asked_at)
