"""A paper that was made is kept as it was: never changed, never deleted, never another one in its place."""

from pathlib import Path

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, connection, transaction
from django.urls import reverse

from shop.billing import services as billing
from shop.handover import making, papers
from shop.handover.models import Paper, PaperDamaged, PaperKind
from tests import money_builders as build


@pytest.fixture
def paper(cleo):
    return papers.keep(build.order(cleo), PaperKind.HANDOVER, b"%PDF-1.7 as it was", name="sheet.pdf", by=cleo)


def test_it_is_served_byte_for_byte(paper, cleo, as_person):
    answer = as_person(cleo).get(reverse("paper", args=[paper.pk, paper.name]))
    assert answer.content == b"%PDF-1.7 as it was"
    assert answer["Content-Disposition"] == 'inline; filename="sheet.pdf"'
    assert answer["X-Content-Type-Options"] == "nosniff"


@pytest.mark.parametrize("harm", ["changed", "gone"])
def test_a_damaged_file_is_said_not_served(paper, cleo, as_person, harm):
    if harm == "gone":
        paper.file.storage.delete(paper.file.name)
    else:
        with open(paper.file.path, "ab") as file:
            file.write(b" and more")
    with pytest.raises(PaperDamaged):
        paper.read()
    answer = as_person(cleo).get(reverse("paper", args=[paper.pk, paper.name]))
    assert answer.status_code == 404
    assert "This paper cannot be shown" in answer.content.decode()


def test_it_is_not_deleted(paper):
    with pytest.raises(ValidationError, match="is kept"):
        paper.delete()
    with pytest.raises(ValidationError, match="is kept"):
        Paper.objects.all().delete()


def test_the_database_refuses_to_change_it(paper):
    with pytest.raises(IntegrityError, match="never changes"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("UPDATE handover_paper SET sha256 = 'another'")


def test_an_invoice_has_one_paper_that_stays(cleo, monkeypatch):
    issued = billing.issue(build.order(cleo), by=cleo)
    first = making.invoice_paper(issued, by=cleo)
    monkeypatch.setattr(papers, "invoice_pdf", lambda *_: b"%PDF-1.7 another")
    assert making.invoice_paper(issued, by=cleo).read() == first.read()


def test_two_that_render_at_once_keep_one(cleo, monkeypatch):
    issued = billing.issue(build.order(cleo), by=cleo)
    monkeypatch.setattr(papers, "invoice_pdf", lambda *_: b"%PDF-1.7 the quicker one")

    def slower(invoice, workshop):
        monkeypatch.setattr(papers, "invoice_pdf", lambda *_: b"%PDF-1.7 the quicker one")
        making.invoice_paper(invoice, by=cleo)
        return b"%PDF-1.7 the slower one"

    monkeypatch.setattr(papers, "invoice_pdf", slower)
    assert making.invoice_paper(issued, by=cleo).read() == b"%PDF-1.7 the quicker one"
    assert Paper.objects.filter(kind=PaperKind.INVOICE).count() == 1


def test_the_file_is_not_readable_by_others(paper):
    assert Path(paper.file.path).stat().st_mode & 0o777 == 0o600
