"""A month's papers: made a few at a time, stopped and gone on with, handed over as one file."""

import io
import zipfile

import pypdf
import pytest
from django.core.management import CommandError, call_command
from django.urls import reverse

from shop.billing import services as billing
from shop.billing.journal import Month
from shop.handover import making
from shop.handover import month as papers_of_month
from shop.handover.models import Paper
from shop.lib.dates import today
from tests import factories, money_builders
from tests.papers import reading


@pytest.fixture
def month():
    return Month(today().year, today().month)


@pytest.fixture
def issued(cleo):
    return [billing.issue(money_builders.order(cleo), by=cleo) for _ in range(3)]


def test_it_stops_when_told_and_goes_on_where_it_was(issued, month):
    told = []
    made = papers_of_month.make_missing(
        month, stopping=lambda: len(told) >= 2, say=lambda done, of: told.append((done, of))
    )
    assert (made, told) == (2, [(1, 3), (2, 3)])
    assert papers_of_month.progress_of(month) == papers_of_month.Progress(2, 3)
    assert papers_of_month.make_missing(month) == 1
    assert papers_of_month.make_missing(month) == 0
    assert Paper.objects.count() == 3


def test_the_page_makes_them_piece_by_piece(issued, as_person, cleo, month, monkeypatch):
    monkeypatch.setattr(papers_of_month, "AT_ONCE", 2)
    client, address = as_person(cleo), reverse("month-make", args=[month.year, month.month])
    assert "0 of 3 are made" in client.get(reverse("month", args=[month.year, month.month])).content.decode()
    first = client.post(address, headers={"HX-Request": "true"}).content.decode()
    assert "2 of 3 are made" in first
    assert "hx-trigger" in first
    last = client.post(address, headers={"HX-Request": "true"}).content.decode()
    assert "All 3 are made" in last
    assert "hx-trigger" not in last
    assert client.post(address).status_code == 302


def test_all_of_them_as_one_file(issued, as_person, cleo, month):
    papers_of_month.make_missing(month, most=2)
    answer = as_person(cleo).get(reverse("month-papers", args=[month.year, month.month]))
    archive = zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content)))
    assert archive.namelist() == [f"{one.number}.pdf" for one in issued[:2]]
    assert archive.testzip() is None
    for name in archive.namelist():
        assert len(pypdf.PdfReader(io.BytesIO(archive.read(name))).pages) == 1


def test_a_damaged_paper_is_named_and_the_others_come(issued, month):
    papers_of_month.make_missing(month)
    paper = making.invoice_paper(issued[0])
    paper.file.storage.delete(paper.file.name)
    archive = zipfile.ZipFile(io.BytesIO(b"".join(papers_of_month.zipped(month))))
    assert archive.namelist()[0] == f"{issued[0].number}-missing.txt"
    assert len(archive.namelist()) == 3


def test_the_command_says_how_far_it_is(issued, month, capsys):
    call_command("make_papers", f"{month.year}-{month.month:02d}")
    said = capsys.readouterr().out
    assert "3 of 3" in said
    assert "3 papers made." in said


def test_the_command_writes_amounts_as_the_workshop_does(cleo, month):
    """What it makes is kept for good, so it has to be what the page would have made."""
    factories.workshop(number_format="1.234,50")
    invoice = billing.issue(money_builders.order(cleo, lines=[("Refret", "1850.50")]), by=cleo)
    call_command("make_papers", f"{month.year}-{month.month:02d}")
    assert "1.850,50" in reading.text(making.invoice_paper(invoice).read())


@pytest.mark.parametrize("text", ["november", "2026-13", "26-1"])
def test_the_command_wants_a_month(db, text):
    with pytest.raises(CommandError, match="2026-11"):
        call_command("make_papers", text)
