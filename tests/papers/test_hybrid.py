"""The invoice's PDF as an archive and a machine take it: PDF/A-3 with one embedded XML. Opened by pypdf, qpdf (through
pikepdf) and poppler. No PDF/A validator is packaged for this machine: the marks that ISO 19005-3 asks for are checked
one by one, which is less than a validator does."""

import io
import shutil
import subprocess

import pikepdf
import pypdf
import pytest
from lxml import etree

from shop.billing import papers
from tests.papers import builders
from tests.papers.invoice_rules import carried

RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
FX = "urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#"
PDFAID = "http://www.aiim.org/pdfa/ns/id/"
needs_poppler = pytest.mark.skipif(not shutil.which("pdfdetach"), reason="poppler-utils is not installed")


@pytest.fixture
def content(db, cleo):
    workshop = builders.shop()
    return papers.invoice_pdf(builders.issued(cleo, 3, rates=("20", "0"), deposit="10.00"), workshop)


def test_the_marks_of_an_archive(content):
    """ISO 19005-3: 6.2.3 one output intent, 6.1.3 an identifier, 6.6.2 one metadata packet that says part and level,
    6.7 tagged (level A), 6.8 embedded files named by AF; from memory."""
    pdf = pikepdf.open(io.BytesIO(content))
    (intent,) = pdf.Root.OutputIntents
    assert intent.S == "/GTS_PDFA1"
    assert "/DestOutputProfile" in intent
    assert len(pdf.trailer.ID) == 2
    assert pdf.Root.MarkInfo.Marked
    assert "/StructTreeRoot" in pdf.Root
    assert pdf.Root.Lang == "en"
    (file,) = pdf.Root.AF
    assert file.AFRelationship == "/Alternative"
    assert file.UF == file.F == "factur-x.xml"
    assert file.EF.F.Subtype == "/text/xml"
    assert "/ModDate" in file.EF.F.Params
    assert "/JavaScript" not in pdf.Root.get("/Names", {})
    assert not pdf.is_encrypted


def test_one_metadata_packet_says_it_all(content):
    pdf = pikepdf.open(io.BytesIO(content))
    tree = etree.fromstring(pdf.Root.Metadata.read_bytes())
    assert len(tree.findall(f"{{{RDF}}}RDF")) == 1
    with pdf.open_metadata() as metadata:
        assert metadata[f"{{{PDFAID}}}part"] == "3"
        assert metadata[f"{{{PDFAID}}}conformance"] == "A"
        assert metadata[f"{{{FX}}}ConformanceLevel"] == "EN 16931"
        assert metadata[f"{{{FX}}}DocumentFileName"] == "factur-x.xml"
        assert metadata["dc:title"].startswith("Invoice ")


def test_every_font_is_embedded(content):
    """ISO 19005-3, 6.2.11.4: no font may be missing from the file."""
    pdf = pikepdf.open(io.BytesIO(content))
    fonts = [one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/FontName" in one]
    assert len(fonts) >= 3
    assert all({"/FontFile2", "/FontFile3"} & set(font.keys()) for font in fonts)


def test_two_readers_find_the_same_xml(content, tmp_path):
    """pypdf and qpdf; a third one below, where it is installed."""
    pdf = pikepdf.open(io.BytesIO(content))
    (file,) = pdf.attachments.values()
    assert file.get_file().read_bytes() == carried(content)
    assert pypdf.PdfReader(io.BytesIO(content)).xmp_metadata is not None


@needs_poppler
def test_poppler_finds_it_too(content, tmp_path):
    path = tmp_path / "invoice.pdf"
    path.write_bytes(content)
    subprocess.run(["pdfdetach", "-save", "1", "-o", tmp_path / "out.xml", path], check=True)
    assert (tmp_path / "out.xml").read_bytes() == carried(content)
    said = subprocess.run(["pdfinfo", path], check=True, capture_output=True, text=True)
    assert "Tagged:          yes" in said.stdout
    assert said.stderr == ""
