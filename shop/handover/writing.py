"""From a mail's words and what it is about to its subject, its plain part and its HTML part."""

import re
from dataclasses import dataclass

from django.template.loader import render_to_string
from django.utils.safestring import SafeString, mark_safe

from shop.handover.models import MailWording
from shop.handover.wordings import FACTS, MAILS, filled
from shop.lib import mail

FACTS_LINE = re.compile(rf"^[ \t]*\{{{FACTS}\}}[ \t]*$", re.MULTILINE)


@dataclass(frozen=True)
class Words:
    """A mail's words. Those of the shop itself, where it has written some."""

    subject: str
    body: str
    days: int | None = None
    is_own: bool = False


@dataclass(frozen=True)
class Piece:
    """A paragraph, or the facts, in plain text and in HTML."""

    text: str
    html: SafeString | None = None
    is_facts: bool = False


def words_of(name):
    return words_from(name, MailWording.objects.filter(name=name).first())


def words_from(name, own):
    """The Words of the mail `name` as the shop wrote them (`own`), or the usual ones."""
    usual = MAILS[name]
    if own is None:
        return Words(usual.subject, usual.body, usual.days)
    return Words(own.subject, own.body, usual.days if own.days is None else own.days, is_own=True)


def written(name, given, words=None):
    """(subject, text, html) of the mail `name` about `given`, in `words` or in those that are kept."""
    words = words or words_of(name)
    subject = mail.one_line(filled(name, words.subject, given))
    shown = given | {"pieces": list(_pieces(name, words.body, given)), "subject": subject}
    text = render_to_string("emails/letter.txt", shown)
    return subject, mail.tidy(text), render_to_string("emails/letter.html", shown).strip()


def around_facts(name, body, given):
    """The paragraphs before the facts, and those after them."""
    body = body.replace("\r\n", "\n")
    before, _, after = body.partition(FACTS_LINE.search(body)[0])
    return [
        [filled(name, one.strip(), given) for one in re.split(r"\n\s*\n", text.strip()) if one.strip()]
        for text in (before, after)
    ]


def _pieces(name, body, given):
    before, after = around_facts(name, body, given)
    yield from map(Piece, before)
    place = f"emails/facts/{MAILS[name].facts}"
    # The page's own template has escaped what people typed.
    html = mark_safe(render_to_string(f"{place}.html", given))  # noqa: S308
    yield Piece(render_to_string(f"{place}.txt", given).strip(), html, is_facts=True)
    yield from map(Piece, after)
