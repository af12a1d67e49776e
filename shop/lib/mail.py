"""The one place that speaks to Django's mail: a letter in, sent or a reason why not.

Which backend carries it is a setting. Whatever people have typed is made one line before it becomes a header.
"""

import re
import smtplib
import unicodedata
import urllib.parse
import uuid
from contextlib import contextmanager
from dataclasses import dataclass
from email.utils import formataddr

from django.core.exceptions import ImproperlyConfigured
from django.core.mail import EmailMultiAlternatives, get_connection
from django.template.loader import render_to_string

LONGEST_SUBJECT = 150
GONE = range(550, 560)  # answers after which trying the same again is no use


class NotSent(Exception):
    """The message says why, in a sentence for people."""


class NotNow(NotSent):
    """It may go another time."""


class Unreachable(NotNow):
    """There is no server to be had."""


class Unanswered(NotNow):
    """The whole mail was handed over, and what the server said to it was not heard: it may have gone."""


class Refused(NotSent):
    """The server will not take this mail. `address_is_wrong` when it is the address that it refuses."""

    def __init__(self, text, *, address_is_wrong=False):
        super().__init__(text)
        self.address_is_wrong = address_is_wrong


@dataclass(frozen=True)
class Letter:
    """One mail to one person. `attachments` are (file name, bytes) of PDFs; `sender` is a whole From header."""

    to: str
    to_name: str
    sender: str
    reply_to: str
    subject: str
    text: str
    html: str
    message_id: str
    attachments: tuple = ()


def one_line(text, longest=LONGEST_SUBJECT):
    """`text` as it may stand in a header: one line, no control characters, not endless."""
    plain = "".join(letter if unicodedata.category(letter)[0] != "C" else " " for letter in text)
    plain = re.sub(r"\s+", " ", plain).strip()
    return plain if len(plain) <= longest else plain[: longest - 1].rstrip() + "…"


def address(name, email):
    """A From or To header of a name and an address."""
    return formataddr((one_line(name, 80), email)) if name.strip() else email


def new_message_id(public_address):
    """A Message-ID of this installation. It is given once, so that a mail sent twice can be known as one."""
    host = urllib.parse.urlsplit(public_address).hostname or ""
    named = host if re.fullmatch(r"[a-z0-9.-]*[a-z][a-z0-9.-]*", host) and "." in host else "workshop.localhost"
    return f"<{uuid.uuid4()}@{named}>"


def written(name, context):
    """(subject, text, html) of the mail `name`, from templates/emails/<name>-{subject,text}.txt and -html.html."""
    subject = render_to_string(f"emails/{name}-subject.txt", context)
    text = render_to_string(f"emails/{name}-text.txt", context)
    html = render_to_string(f"emails/{name}-html.html", context)
    return one_line(subject), tidy(text), html.strip()


def tidy(text):
    """No trailing spaces and no more than one empty line, which template tags leave behind."""
    lines = "\n".join(line.rstrip() for line in text.strip().splitlines())
    return re.sub(r"\n{3,}", "\n\n", lines) + "\n"


@contextmanager
def line_open():
    """A connection to the mail server, for one letter or several. Raises Unreachable when there is none to be had."""
    try:
        connection = get_connection(fail_silently=False)
        connection.open()
    except (OSError, smtplib.SMTPException, ImproperlyConfigured) as error:
        raise Unreachable(f"The mail server cannot be reached: {_said(error)}") from error
    try:
        yield connection
    finally:
        _close(connection)


def send(letter, connection):
    """Send, or raise NotNow or Refused."""
    message = EmailMultiAlternatives(
        subject=letter.subject, body=letter.text, from_email=letter.sender, to=[address(letter.to_name, letter.to)],
        reply_to=[letter.reply_to] if letter.reply_to else None, headers={"Message-ID": letter.message_id},
        connection=connection,
    )  # fmt: skip
    if letter.html:
        message.attach_alternative(letter.html, "text/html")
    for name, content in letter.attachments:
        message.attach(one_line(name), content, "application/pdf")
    handed_over = _watched(connection)
    try:
        message.send()
    except smtplib.SMTPRecipientsRefused as error:
        raise _of_recipient(error, letter.to) from error
    except smtplib.SMTPDataError as error:
        raise _of_answer(error.smtp_code, error.smtp_error) from error
    except (OSError, smtplib.SMTPException) as error:
        if handed_over():
            raise Unanswered(f"The mail server had all of it and was not heard again: {_said(error)}") from error
        raise NotNow(f"The mail server did not take it: {_said(error)}") from error
    except ValueError as error:
        raise Refused(f"It cannot be written as a mail: {_said(error)}", address_is_wrong=True) from error


def _watched(connection):
    """A function that says whether a mail's last line was handed over and its answer is still owed.

    RFC 5321, 4.1.1.4: until then the server has nothing to deliver; from then on it may have taken it. smtplib keeps
    no note of that, so its own steps are listened to. What speaks no SMTP owes no answer.
    """
    server, state = getattr(connection, "connection", None), {"inside": False, "answers": 0}
    if not isinstance(server, smtplib.SMTP):
        return lambda: False
    hand_over, hear = server.data, server.getreply

    def data(content):
        state.update(inside=True, answers=0)
        taken = hand_over(content)
        state["inside"] = False
        return taken

    def getreply():
        state["answers"] += 1  # within `data`: the first one asks for the content, the second one takes it
        return hear()

    server.data, server.getreply = data, getreply
    return lambda: state["inside"] and state["answers"] > 1


def _of_recipient(error, to):
    code, answer = next(iter(error.recipients.values()))
    if code in GONE:
        return Refused(f"The mail server refuses {to} for good: {code} {_plain(answer)}", address_is_wrong=True)
    return NotNow(f"The mail server does not take mail for {to} now: {code} {_plain(answer)}")


def _of_answer(code, answer):
    if code in GONE:
        return Refused(f"The mail server refuses this mail for good: {code} {_plain(answer)}")
    return NotNow(f"The mail server did not take it: {code} {_plain(answer)}")


def _said(error):
    """An error of the mail server in words, without what Python adds."""
    if isinstance(error, smtplib.SMTPResponseException):
        return f"{error.smtp_code} {_plain(error.smtp_error)}"
    if isinstance(error, TimeoutError):
        return "it did not answer in time."
    return one_line(getattr(error, "strerror", None) or str(error) or type(error).__name__, 300)


def _plain(answer):
    words = answer.decode("utf-8", "replace") if isinstance(answer, bytes) else str(answer)
    return one_line(words, 300)


def _close(connection):
    try:
        connection.close()
    except (OSError, smtplib.SMTPException):
        return  # what was sent was acknowledged before; a server that hangs up on the goodbye changes nothing
