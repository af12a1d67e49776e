"""What people type stays text: on every page, paper and mail, in every drawing and in every file that is given out."""

import csv
import io
import re
import zipfile
from collections import defaultdict

import pytest
from django.conf import settings
from django.core import mail as post
from django.db import transaction
from django.test import Client, override_settings
from django.utils import timezone

from shop.billing.models import Invoice
from shop.handover import mails, papers, wordings
from shop.handover.models import MailWording, OutgoingMail, Paper
from shop.lib import pdf
from shop.orders.models import WorkOrder
from shop.orders.states import State
from shop.staff import letters
from shop.staff.models import Person, Workshop
from tests.hardening import full_shop, labels, probes

pytestmark = pytest.mark.django_db
MARKUP = ("text/html", "image/svg+xml", "application/xml", "text/xml")
A_NUMBER = re.compile(r"[+-]?[\d.,]+ ?%?")
EXPORTS = ("export", "csv", "empty", "zip", "everything", "count")


@pytest.fixture(scope="module")
def set_papers():
    with pytest.MonkeyPatch.context() as patch:
        kept = full_shop.Papers()
        patch.setattr(pdf, "pdf_of", kept)
        yield kept


@pytest.fixture(scope="module")
def probed(django_db_setup, django_db_blocker, tmp_path_factory, set_papers):
    """A shop full of work with a probe in every field; {mark: the field's label}. Loaded once for all of these."""
    folder = tmp_path_factory.mktemp("probed")
    kept = {**settings.STORAGES["default"], "OPTIONS": {**settings.STORAGES["default"]["OPTIONS"], "location": folder}}
    files = override_settings(FILES_ROOT=folder, STORAGES={**settings.STORAGES, "default": kept})
    with files, django_db_blocker.unblock(), transaction.atomic():
        full_shop.fill()
        set_papers.clear()
        yield probes.fill_every_field()
        transaction.set_rollback(True)


@pytest.fixture(autouse=True)
def own_files():
    """The files stay where they are for all of these tests."""


@pytest.fixture
def owner(probed):
    client = Client()
    client.force_login(Person.objects.filter(role="owner").first())
    return client


def content_of(answer):
    return b"".join(answer.streaming_content) if answer.streaming else answer.content


def markup_in(answer, content):
    """Every piece of markup that an answer carries."""
    kind = answer["Content-Type"].split(";")[0]
    if kind in MARKUP:
        return [content.decode()]
    return probes.pieces_of(content) if kind == "application/json" else []


def test_every_field_is_probed(probed):
    """A model without a row would be looked at by nobody."""
    filled = probes.typed_fields().values()
    assert {field.model._meta.label for field in filled if not field.model._base_manager.exists()} == set()


def test_on_pages(owner, probed, set_papers):
    wrong, seen = defaultdict(set), set()
    for name, path in full_shop.addresses():
        answer = owner.get(path, headers=full_shop.BY_SCRIPT.get(name, {}))
        assert answer.status_code < 500, path
        content = content_of(answer)
        wrong[name].update(labels.wrong_with(answer, content))
        for text in markup_in(answer, content):
            wrong[name].update(probes.heeded(text))
            seen |= probes.marks_in(text)
    assert {name: found for name, found in wrong.items() if found} == {}
    assert [found for text in set_papers for found in probes.heeded(text)] == []
    unseen = sorted(label for mark, label in probed.items() if mark not in seen)
    assert len(unseen) < len(probed) / 6, f"the walk has gone blind: {unseen}"


def test_on_papers(probed, set_papers):
    set_papers.clear()
    workshop, wrong = Workshop.here(), defaultdict(set)
    for order in WorkOrder.objects.select_related("customer", "instrument"):
        for make in (papers.receipt_pdf, papers.quote_pdf, papers.handover_pdf):
            make([order] if make is papers.receipt_pdf else order, workshop)
            wrong[make.__name__].update(probes.heeded(set_papers[-1]))
            assert probes.marks_in(set_papers[-1])
    for invoice in Invoice.objects.issued():
        papers.invoice_pdf(invoice, workshop)
        wrong["invoice"].update(probes.heeded(set_papers[-1]))
    assert {name: found for name, found in wrong.items() if found} == {}


@pytest.mark.parametrize("own_words", [True, False])
def test_in_mails(probed, own_words):
    """In the shop's own words, probed as well, and in the usual ones, which hold more of what was typed."""
    if not own_words:
        MailWording.objects.all().delete()
    before = OutgoingMail.objects.latest("pk").pk
    every_mail()
    letters_out = OutgoingMail.objects.filter(pk__gt=before)
    assert {one.name for one in letters_out} == set(wordings.MAILS)
    for one in letters_out:
        assert probes.heeded(one.html) == [], one.name
        assert probes.marks_in(one.html), one.name
        assert probes.marks_in(one.text), one.name
        assert not re.search(r"&\w+;|&#", one.text), one.name
        assert "xq>14" not in one.text, one.name
        assert "\n" not in one.subject, one.name


def every_mail():
    """Each mail of the house, queued once."""
    paper, order = Paper.objects.first(), WorkOrder.objects.filter(state=State.READY).first()
    quoted = WorkOrder.objects.exclude(quotes=None).first()
    issued = Invoice.objects.issued().filter(corrects=None).first()
    note = Invoice.objects.issued().exclude(corrects=None).first()
    by = order.booked_by
    mails.receipt([order], by=by)
    mails.ready(order, [paper], by=by)
    mails.waits(order, by=None)
    mails.quote(quoted, paper, quoted.quotes.first(), by=by)
    mails.invoice(issued, paper, by=by)
    mails.credit_note(note, paper, by=by)
    mails.statement(issued.order, [issued], paper, by=by)
    for name in wordings.REMINDERS:
        mails.reminder(name, issued, paper, by=by)


def test_in_letters_to_staff(probed):
    Person.objects.filter(role="owner").update(reset_asked_at=timezone.now())
    letters.send_waiting()
    (letter,) = post.outbox
    ((html, _),) = letter.alternatives
    assert probes.heeded(html) == []
    assert "{{7|add:7}}" in letter.body
    assert "&" not in letter.body


def tables_in(answer):
    """Every table that an answer carries, as rows of cells."""
    content = content_of(answer)
    if answer["Content-Type"].startswith("text/csv"):
        yield rows_of(content)
    elif answer["Content-Type"] == "application/zip":
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            yield from (rows_of(packed.read(name)) for name in packed.namelist() if name.endswith(".csv"))


def is_run(cell):
    """Whether a spreadsheet takes it for a formula: OWASP, CSV Injection. A minus before figures is a number."""
    return cell[:1] in ("=", "+", "-", "@", "\t", "\r", "\n") and not A_NUMBER.fullmatch(cell)


def rows_of(content):
    return list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))


def test_no_sheet_runs_what_was_typed(owner, probed, monkeypatch):
    """Cells that a spreadsheet would take for a formula; a minus before figures is a number."""
    monkeypatch.setattr(probes, "FORMS", ("=HYPERLINK(\"x\"),{name}", "@{name}", "-x"))
    monkeypatch.setattr(probes, "ADDRESS", "+{name}@example.com")
    probes.fill_every_field()
    tables, bad = 0, set()
    for name, path in full_shop.addresses():
        if name.endswith(EXPORTS):
            for rows in tables_in(owner.get(path)):
                tables += 1
                assert rows, path
                bad |= {(name, cell) for row in rows for cell in row if is_run(cell)}
    assert bad == set()
    assert tables > 12
