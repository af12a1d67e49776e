"""Numbers in the database, in the embedded XML and on the printed page are the same, on hundreds of invoices.

The invoices are drawn at random by hypothesis and go the whole way: order, discount, deposit, issue, credit note, PDF.
The page is read back by PDFium each time, and on a share of them by pypdf and poppler as well. There are 240 of them,
and 60 more on a database server;
`PAPERS_INVOICES=5000 python3 -m tests tests/papers/test_three_agree.py` takes as many as one likes.
"""

import os
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from shop.billing import papers
from shop.billing import services as billing
from shop.billing.account import account_of
from shop.lib import money
from tests import factories, money_builders
from tests.papers import builders
from tests.papers.invoice_rules import Read, broken, carried
from tests.papers.printed import READERS, printed
from tests.servers import has_server

SHARES = 4  # so that several processes have something to do
INVOICES = int(os.environ.get("PAPERS_INVOICES", "60" if has_server else "240"))
RATES = ("25.5", "20", "19", "7.7", "5", "0")
NUMBERS = ("1,234.50", "1.234,50", "1 234,50", "1’234.50")
NOTHING = Decimal("0.00")

LINE = st.tuples(
    st.sampled_from(["Fret ends dressed", "New nut, bone", "Setup", "Strings, 10 to 46, nickel"]),  # no figure ends one
    st.decimals("0.00", "4999.99", places=2),
    st.decimals("0.01", "19.99", places=2),
    st.sampled_from(RATES),
)
ORDERS = st.fixed_dictionaries({
    "lines": st.lists(LINE, min_size=1, max_size=4),
    "include_tax": st.booleans(),
    "discount": st.one_of(st.just(NOTHING), st.just(NOTHING), st.decimals("0.01", "100", places=2)),
    "deposit": st.sampled_from([Decimal(0), Decimal(0), Decimal("0.3"), Decimal(1), Decimal("1.2")]),
    "exempt": st.booleans(),
    "credited": st.booleans(),
    "numbers": st.sampled_from(NUMBERS),
    "currency": st.sampled_from(["EUR", "EUR", "CHF"]),
    "thorough": st.sampled_from([False] * 7 + [True]),  # read by every program, and held against the rules
})  # fmt: skip


@pytest.mark.parametrize("share", range(SHARES))
def test_database_xml_and_page_agree(cleo, share):
    instrument, counted = factories.instrument(), [0]

    @settings(
        max_examples=INVOICES // SHARES, deadline=None, suppress_health_check=list(HealthCheck),
        phases=[Phase.generate],  # making a failure smaller would render hundreds more
    )  # fmt: skip
    @given(drawn=ORDERS)
    def agrees(drawn):
        counted[0] += 1
        workshop = shop_of(drawn)
        with money.conventions(drawn["currency"], drawn["numbers"]):
            invoice = issued(drawn, workshop, instrument, cleo)
            check(invoice, workshop, thorough=drawn["thorough"])

    agrees()
    assert counted[0] >= INVOICES // SHARES


def shop_of(drawn):
    return builders.shop(
        prices_include_tax=drawn["include_tax"], exempt_reason="Exempt as told." if drawn["exempt"] else "",
        number_format=drawn["numbers"], currency=drawn["currency"],
    )  # fmt: skip


def issued(drawn, workshop, instrument, by):
    """The invoice as drawn, or the credit note that takes it back."""
    order = money_builders.order(by, lines=drawn["lines"], instrument=instrument)
    if drawn["discount"]:
        billing.set_discount(order, percent=drawn["discount"], reason="returning customer", by=by)
    deposit = money.rounded(account_of(order, workshop).agreed.total * drawn["deposit"])
    if deposit > 0:
        billing.receive(order, amount=deposit, kind="cash", key=money_builders.key(), by=by)
    invoice = billing.issue(order, by=by)
    return billing.credit(invoice, reason="Wrong.", by=by) if drawn["credited"] else invoice


def check(invoice, workshop, *, thorough):
    content = papers.invoice_pdf(invoice, workshop)
    xml = carried(content)
    machine_agrees(invoice, Read(xml))
    for name, reader in READERS.items():
        if thorough or name == "PDFium":
            page_agrees(invoice, printed(reader(content)), Read(xml))
    if thorough:
        assert broken(xml) == []


def machine_agrees(invoice, read):
    """The XML against the row in the database."""
    sign = -1 if invoice.is_credit_note else 1
    kept = [Decimal(line["amount"]) for line in invoice.snapshot["lines"]]
    assert read.text("//rsm:ExchangedDocument/ram:ID") == invoice.number
    assert read.text("//ram:InvoiceCurrencyCode") == invoice.currency
    assert read.sum_of("TaxBasisTotalAmount") == sign * invoice.net
    assert read.sum_of("TaxTotalAmount") == sign * invoice.tax
    assert read.sum_of("GrandTotalAmount") == sign * invoice.total
    assert sum(base + tax for base, tax in read.taxes().values()) == sign * invoice.total
    assert [sign * line.amount for line in invoice.lines.all()] == kept
    if not invoice.prices_include_tax:
        assert read.lines() == kept
        assert read.sum_of("AllowanceTotalAmount") == Decimal(invoice.snapshot["discount"])


def page_agrees(invoice, page, read):
    """The page against the rows in the database and against the XML."""
    sign = -1 if invoice.is_credit_note else 1
    taxes = read.taxes()
    assert page.number == invoice.number
    assert page.lines == [
        (one.position, one.text, one.quantity, one.price, one.tax_rate, sign * one.amount)
        for one in invoice.lines.all()
    ]
    assert page.amounts["total"] == sign * invoice.total == read.sum_of("GrandTotalAmount")
    assert {rate: tax for rate, (_, tax) in page.rates.items()} == {rate: tax for rate, (_, tax) in taxes.items()}
    assert all(base in (None, taxes[rate][0]) for rate, (base, _) in page.rates.items())
    if "net" in page.amounts:
        assert page.amounts["net"] == sign * invoice.net == read.sum_of("TaxBasisTotalAmount")
    else:
        assert len(page.rates) == 1
    discount_agrees(invoice, page)
    if not invoice.is_credit_note:
        money_agrees(invoice, page, read)


def discount_agrees(invoice, page):
    discount = Decimal(invoice.snapshot["discount"])
    assert -page.amounts.get("discount", NOTHING) == discount
    if discount:
        assert page.amounts["sum"] == sum((row[-1] for row in page.lines), NOTHING)


def money_agrees(invoice, page, read):
    """What was received, and what is left to pay or to give back."""
    open_amount = invoice.balance.open_amount
    assert page.received == invoice.order.payments.received()
    assert read.sum_of("DuePayableAmount") == open_amount
    assert page.amounts.get("due", open_amount) == abs(open_amount)
    assert ("To be given back to you" in page.words) is (open_amount < 0)
    assert ("Paid in full." in page.words) is (open_amount == 0)
    assert ("Please pay" in page.words) is (open_amount > 0)
