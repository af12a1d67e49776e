"""The electronic invoice: valid by the schemas and rules of EN 16931, and saying what database and paper say."""

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shop.billing import papers, snapshot
from shop.billing import services as billing
from shop.billing.account import Account
from shop.billing.einvoice.document import xml_of
from shop.billing.einvoice.missing import missing_of
from shop.billing.einvoice.net import dealt_out
from shop.billing.totals import Priced, totals
from shop.lib import money
from tests.papers import builders, reading
from tests.papers.invoice_rules import Read, broken, carried


@pytest.fixture(autouse=True)
def workshop(db):
    return builders.shop()


@pytest.mark.parametrize("include_tax", [True, False])
@pytest.mark.parametrize("options", [{}, {"deposit": "10.00", "discount": "12.5", "long": True}])
def test_an_issued_invoice_breaks_no_rule(cleo, include_tax, options):
    workshop = builders.shop(prices_include_tax=include_tax)
    invoice = builders.issued(cleo, 6, rates=("20", "7", "0"), **options)
    content = papers.invoice_pdf(invoice, workshop)
    xml = carried(content)
    assert broken(xml) == []
    read, text = Read(xml), reading.text(content)
    assert read.text("//rsm:ExchangedDocument/ram:ID") == invoice.number
    assert (read.sum_of("TaxBasisTotalAmount"), read.sum_of("TaxTotalAmount")) == (invoice.net, invoice.tax)
    assert read.sum_of("GrandTotalAmount") == invoice.total
    assert f"Total {money.shown(read.sum_of('GrandTotalAmount'))}" in text
    assert money.shown(read.sum_of("DuePayableAmount")) in text
    for base, tax in read.taxes().values():
        assert money.shown(base) in text
        assert money.shown(tax) in text


def test_a_credit_note_breaks_no_rule_and_names_what_it_corrects(cleo, workshop):
    invoice = builders.issued(cleo, 3, deposit="5.00")
    note = billing.credit(invoice, reason="Wrong strings were billed.", by=cleo)
    xml = carried(papers.invoice_pdf(note, workshop))
    assert broken(xml) == []
    read = Read(xml)
    assert read.text("//rsm:ExchangedDocument/ram:TypeCode") == "381"  # UNTDID 1001: credit note
    assert read.text("//ram:InvoiceReferencedDocument/ram:IssuerAssignedID") == invoice.number
    assert read.sum_of("GrandTotalAmount") == -note.total
    assert read.sum_of("DuePayableAmount") == -note.total


def test_the_rules_see_what_is_wrong(cleo):
    """The check can fail: one cent more in the total breaks BR-CO-15 and BR-CO-16."""
    invoice = builders.issued(cleo, 2)
    kept = invoice.snapshot | {"total": str(invoice.total + Decimal("0.01"))}
    found = " ".join(broken(xml_of(kept, number=invoice.number)))
    assert "BR-CO-15" in found


def test_at_nought_per_cent_the_reason_makes_it_exempt(cleo):
    workshop = builders.shop(exempt_reason="Exempt as a small business.")
    invoice = builders.issued(cleo, 2, rates=("0",))
    content = papers.invoice_pdf(invoice, workshop)
    read = Read(carried(content))
    assert broken(carried(content)) == []
    assert set(read.texts("//ram:CategoryCode")) == {"E"}
    assert read.text("//ram:ExemptionReason") == "Exempt as a small business."
    assert "Exempt as a small business." in reading.text(content)


def test_a_firm_is_named_with_its_numbers(cleo, workshop):
    read = Read(carried(papers.invoice_pdf(builders.issued(cleo, 1, long=True), workshop)))
    assert read.text("//ram:BuyerTradeParty/ram:Name") == builders.NAMES["company"]
    assert read.text("//ram:BuyerTradeParty/ram:SpecifiedTaxRegistration/ram:ID") == "DE136695976"
    assert read.text("//ram:BuyerReference") == builders.NAMES["buyer_reference"]
    assert read.text("//ram:SellerTradeParty/ram:SpecifiedTaxRegistration/ram:ID") == "DE136695976"


def test_a_local_tax_number_will_do(cleo):
    """BR-S-02 takes BT-32 for BT-31; BR-CO-26 then wants BT-29."""
    workshop = builders.shop(tax_number="133/815/08159")
    assert broken(carried(papers.invoice_pdf(builders.issued(cleo, 1), workshop))) == []


@pytest.mark.parametrize(
    ("fields", "says"),
    [({"country": ""}, "country"), ({"country": "US"}, "EN 16931"), ({"tax_number": " "}, "tax number")],
)
def test_without_what_it_needs_there_is_the_paper_alone(as_person, cleo, fields, says):
    workshop = builders.shop(**fields)
    invoice = builders.issued(cleo, 1)
    content = papers.invoice_pdf(invoice, workshop)
    assert b"factur-x" not in content
    assert says in missing_of(invoice.snapshot["seller"])
    page = as_person(cleo).get(reverse("invoice", args=[invoice.pk]))
    assert says in page.content.decode()
    assert as_person(cleo).get(reverse("invoice-xml", args=[invoice.pk])).status_code == 404


def test_control_characters_do_not_break_it(cleo):
    invoice = builders.issued(cleo, 1)
    kept = invoice.snapshot | {"terms": "a\x00b\x0bc \ufffe & <d>"}
    assert broken(xml_of(kept, number=invoice.number)) == []


# Prices up to what a workshop bills, quantities with two decimals, up to four rates of today's Europe and nought.
LINE = st.builds(
    Priced,
    text=st.just("Work"),
    quantity=st.decimals("0.01", "99.99", places=2),
    price=st.decimals("0.00", "2999.99", places=2),
    tax_rate=st.sampled_from([Decimal(rate) for rate in ("25.5", "20", "19", "7.7", "5", "0")]),
)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    lines=st.lists(LINE, min_size=1, max_size=6),
    include_tax=st.booleans(),
    percent=st.one_of(st.just(Decimal(0)), st.decimals("0.01", "100", places=2)),
    share=st.sampled_from([Decimal(0), Decimal("0.3"), Decimal(1), Decimal("1.2")]),
    exempt=st.booleans(),
    is_credit=st.booleans(),
)
def test_hundreds_of_invoices_break_no_rule_and_agree_to_the_cent(
    workshop, lines, include_tax, percent, share, exempt, is_credit
):
    found = totals(lines, prices_include_tax=include_tax, discount_percent=percent)
    kept = kept_of(workshop, found, include_tax, percent, share, exempt, is_credit)
    xml = xml_of(kept, number="R26-0001")
    assert broken(xml) == []
    read = Read(xml)
    assert read.sum_of("TaxBasisTotalAmount") == found.net
    assert read.sum_of("TaxTotalAmount") == found.tax
    assert read.sum_of("GrandTotalAmount") == found.total
    assert read.sum_of("DuePayableAmount") == found.total - (0 if is_credit else Decimal(kept["paid"]))
    assert read.taxes() == {one.rate: (one.base, one.tax) for one in found.rates}
    for line, net in zip(found.lines, read.lines(), strict=True):
        exact = line.amount * 100 / (100 + line.tax_rate) if include_tax else line.amount
        assert abs(net - exact) < Decimal("0.01")


def kept_of(workshop, found, include_tax, percent, share, exempt, is_credit):
    """A snapshot as issuing writes it, without a database."""
    paid = money.rounded(found.total * share)
    account = Account(found, found, (), None, None, (), paid, "EUR")
    workshop.prices_include_tax, workshop.exempt_reason = include_tax, "Exempt." if exempt else ""
    kept = snapshot.of_amounts(workshop, account, issued_on=date(2026, 11, 25), due_on=date(2026, 12, 9))
    kept |= {
        "discount_percent": str(percent), "discount_reason": "returning" if percent else "",
        "seller": builders.WORKSHOP | {"bic": "COBADEFFXXX"},
        "buyer": {"name": "Ada", "company": "", "address": "", "country": "", "vat_number": "", "buyer_reference": ""},
        "order": {"number": "26-0001"}, "instrument": {"name": "archtop"},
    }  # fmt: skip
    if is_credit:
        kept |= {"corrects": {"number": "R26-0000", "issued_on": "2026-11-20"}, "reason": "Wrong."}
    return kept


@given(st.lists(st.decimals("0", "5000", places=6), min_size=1, max_size=30))
def test_cents_are_dealt_out_fairly(exact):
    whole = money.rounded(sum(exact))
    found = dealt_out(whole, exact, "EUR")
    assert sum(found) == whole
    assert all(abs(one - share) < Decimal("0.01") for one, share in zip(found, exact, strict=True))
