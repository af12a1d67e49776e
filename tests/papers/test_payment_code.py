"""The payment code of a euro invoice, read back from the printed page by a decoder that knows nothing of ours."""

import io

import pypdfium2
import pytest
import zxingcpp

from shop.billing import epc, papers
from tests.papers import builders


def codes(content):
    page = pypdfium2.PdfDocument(io.BytesIO(content))[0]
    return [one.text for one in zxingcpp.read_barcodes(page.render(scale=4).to_pil())]


def test_a_bank_reads_the_open_amount(cleo):
    """EPC069-12, field by field as quoted in the documentation of segno 1.6.6; the decoder is zxing-cpp."""
    workshop = builders.shop()
    invoice = builders.issued(cleo, 3, deposit="20.00")
    (code,) = codes(papers.invoice_pdf(invoice, workshop))
    assert code.split("\n") == [
        "BCD", "002", "1", "SCT", "COBADEFFXXX", "Old Mill Guitar Workshop", "DE89370400440532013000",
        f"EUR{invoice.total - 20}", "", "", f"Invoice {invoice.number}",
    ]  # fmt: skip


@pytest.mark.parametrize("fields", [{"currency": "CHF"}, {"iban": ""}, {"iban": "DE00370400440532013000"}])
def test_where_it_would_be_wrong_there_is_none(cleo, fields):
    workshop = builders.shop(**fields)
    assert codes(papers.invoice_pdf(builders.issued(cleo, 3), workshop)) == []


def test_what_is_paid_has_none(cleo):
    workshop = builders.shop()
    assert codes(papers.invoice_pdf(builders.issued(cleo, 1, deposit="31.43"), workshop)) == []


def test_a_long_name_is_cut_to_what_the_code_allows(cleo):
    workshop = builders.shop(name="The Old Mill Workshop for Fretted Instruments, Repairs, Restoration and Making")
    (code,) = codes(papers.invoice_pdf(builders.issued(cleo, 3), workshop))
    assert code.split("\n")[5] == workshop.name[: epc.LONGEST_NAME].strip()


def test_a_wrong_bic_is_left_out(cleo):
    workshop = builders.shop(bic="NONSENSE!")
    (code,) = codes(papers.invoice_pdf(builders.issued(cleo, 3), workshop))
    assert code.split("\n")[4] == ""
