"""The invoice on paper: it says what the database says, and is set like good stationery."""

import io
from decimal import Decimal

import pikepdf
import pypdf
import pytest

from shop.billing import papers
from shop.lib import money
from shop.staff.models import Workshop
from tests.papers import builders, reading

SIZES = {"A4": (595, 842), "Letter": (612, 792)}  # points, ISO 216 and ANSI Y14.1, from memory


@pytest.fixture(autouse=True)
def workshop(db):
    return builders.shop()


def paper_of(invoice, workshop=None):
    return papers.invoice_pdf(invoice, workshop or Workshop.here())


@pytest.mark.parametrize("include_tax", [True, False])
@pytest.mark.parametrize(("count", "rates"), [(1, ("20",)), (4, ("20", "5")), (40, ("20", "7", "0"))])
def test_every_figure_of_the_database_stands_on_it(cleo, include_tax, count, rates):
    workshop = builders.shop(prices_include_tax=include_tax)
    invoice = builders.issued(cleo, count, rates=rates, deposit="10.00", discount="10")
    text = reading.text(paper_of(invoice, workshop))
    assert invoice.number in text
    assert f"Total {money.shown(invoice.total)}" in text
    assert f"To pay {money.shown(invoice.total - 10)}" in text
    for line in invoice.lines.all():
        assert money.plain(line.amount) in text
    for rate in invoice.snapshot["rates"]:
        assert money.shown(Decimal(rate["tax"])) in text
        assert money.shown(Decimal(rate["base"])) in text
    assert "Discount 10 %, returning customer" in text


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("count", "long"), [(1, False), (3, True), (40, True)])
def test_nothing_stands_beyond_the_margins(cleo, size, count, long):
    workshop = builders.shop(paper=size)
    content = paper_of(builders.issued(cleo, count, long=long), workshop)
    assert reading.beyond_the_margins(content) == []
    page = pypdf.PdfReader(io.BytesIO(content)).pages[0].mediabox
    assert (round(page.width), round(page.height)) == SIZES[size]


def test_pages_are_counted_and_the_head_is_repeated(cleo):
    pages = reading.pages(paper_of(builders.issued(cleo, 40)))
    assert len(pages) > 1
    for number, text in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in text
        assert ("What was done and fitted" in text) is bool(rows_of(text))
    assert sum(len(rows_of(text)) for text in pages) == 40


def rows_of(text):
    return [line for line in text.splitlines() if "20 %" in line and line.split()[0].isdigit()]


@pytest.mark.parametrize("count", range(14, 24))
def test_no_row_and_no_total_stands_alone(cleo, count):
    """At whatever count the page breaks, at least two rows stand with the total and with the head."""
    pages = reading.pages(paper_of(builders.issued(cleo, count)))
    for text in pages:
        if "\nTotal " in text or "What was done and fitted" in text:
            assert len(rows_of(text)) >= 2, text


def test_what_is_paid_is_said(cleo):
    text = reading.text(paper_of(builders.issued(cleo, 1, deposit="31.43")))
    assert "Paid in full. Thank you." in text
    assert "Please pay" not in text


def test_more_than_due_is_given_back(cleo):
    text = reading.text(paper_of(builders.issued(cleo, 1, deposit="50.00")))
    assert "To be given back to you €18.57" in text


def test_without_terms_or_bank_it_is_still_whole(cleo):
    workshop = builders.shop(invoice_terms="", iban="", bic="", tax_number="", website="", email="", phone="")
    text = reading.text(paper_of(builders.issued(cleo, 1), workshop))
    assert "IBAN" not in text
    assert "Please pay €31.43 by" in text


@pytest.mark.parametrize(
    ("number_format", "currency", "total"),
    [("1.234,50", "EUR", "1.850,50 €"), ("1’234.50", "CHF", "1’850.50 CHF"), ("1,234.50", "USD", "$1,850.50")],
)
def test_figures_are_written_as_the_workshop_writes_them(cleo, number_format, currency, total):
    workshop = builders.shop(number_format=number_format, currency=currency)
    order = builders.order(cleo, 0)
    builders.money_builders.line(order, "Refret", "1850.50")
    with money.conventions(currency, number_format):
        text = reading.text(paper_of(builders.billing.issue(order, by=cleo), workshop))
    assert f"Total {total}" in text


def test_a_draft_says_so_and_has_no_number(cleo):
    workshop = builders.shop()
    order = builders.order(cleo, 3)
    text = reading.text(papers.draft_pdf(order, workshop))
    assert "Draft invoice" in text
    assert "This is a draft, not an invoice" in text
    assert "Please pay" not in text


def test_a_credit_note_names_what_it_takes_back(cleo):
    workshop = builders.shop()
    invoice = builders.issued(cleo, 2, deposit="20.00")
    note = builders.billing.credit(invoice, reason="Wrong strings were billed.", by=cleo)
    text = reading.text(paper_of(note, workshop))
    assert f"Credit note {note.number}" in text
    assert f"takes back the whole of invoice {invoice.number}: Wrong strings were billed." in " ".join(text.split())
    assert f"Total taken back {money.shown(invoice.total)}" in text
    assert "€20.00 was received for this order so far." in text


def test_fonts_are_embedded_and_cut_to_what_is_used(cleo):
    content = paper_of(builders.issued(cleo, 3))
    with pikepdf.open(io.BytesIO(content)) as pdf:
        known = [one for one in pdf.objects if isinstance(one, pikepdf.Dictionary)]
        fonts = [one for one in known if one.get("/Type") == "/FontDescriptor"]
        assert fonts
        assert all("/FontFile2" in one or "/FontFile3" in one for one in fonts)
        assert all(str(one.FontName)[7] == "+" for one in fonts)  # six letters and a plus: a subset
    assert len(content) < 80_000


def test_it_is_tagged_titled_and_in_a_language(cleo):
    invoice = builders.issued(cleo, 3)
    with pikepdf.open(io.BytesIO(paper_of(invoice))) as pdf:
        assert "/StructTreeRoot" in pdf.Root
        assert str(pdf.Root.Lang) == "en"
        assert str(pdf.docinfo["/Title"]) == f"Invoice {invoice.number} · Old Mill Guitar Workshop"


def test_letters_of_all_europe_and_others_are_there(cleo):
    workshop = builders.shop()
    order = builders.order(cleo, 0)
    builders.money_builders.line(order, "Šťastný žlutý kůň; Łódź; Ærøskøbing; Ğüş; Ελλάδα; Київ; F♯ B♭", "10")
    text = reading.text(paper_of(builders.billing.issue(order, by=cleo), workshop))
    for word in ("Šťastný", "Łódź", "Ærøskøbing", "Ğüş", "Ελλάδα", "Київ", "F♯", "B♭"):
        assert word in text
