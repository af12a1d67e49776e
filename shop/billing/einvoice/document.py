"""From a snapshot to the invoice as machines read it: EN 16931, Cross Industry Invoice. BT-… are the standard's terms.

A credit note is of type 381 with its amounts above zero, as the standard wants it, and names the invoice it corrects.
"""

from datetime import date, datetime
from decimal import Decimal

from drafthorse.models.accounting import ApplicableTradeTax, CategoryTradeTax, TradeAllowanceCharge
from drafthorse.models.document import Document
from drafthorse.models.note import IncludedNote
from drafthorse.models.party import TaxRegistration
from drafthorse.models.payment import PaymentMeans, PaymentTerms
from drafthorse.models.tradelines import LineItem

from shop.billing.einvoice.net import net_of
from shop.billing.treatments import CODES, Treatment
from shop.lib.folding import printable
from shop.lib.validators import is_valid, plain_iban, valid_bic, valid_iban, valid_vat_number

GUIDELINE = "urn:cen.eu:en16931:2017"
INVOICE, CREDIT_NOTE = "380", "381"  # UNTDID 1001
PIECE = "C62"  # UN/ECE Recommendation 20: one
TRANSFER = "30"  # UNTDID 4461: credit transfer
DISCOUNT = "95"  # UNTDID 5189
CENT = Decimal("0.01")
STANDARD, ZERO_RATED, EXEMPT = "S", "Z", "E"  # UNTDID 5305


def xml_of(kept, *, number):
    """The XML of an issued invoice or credit note, in bytes. `kept` is its snapshot."""
    document = Document()
    document.context.guideline_parameter.id = GUIDELINE
    _head(document.header, kept, number)
    lines, rates = net_of(kept)
    for line, net in zip(kept["lines"], lines, strict=True):
        document.trade.items.add(_line(kept, line, net))
    _parties(document.trade.agreement, kept)
    _delivery(document.trade.delivery, kept)
    _settlement(document.trade.settlement, kept, number, rates)
    return document.serialize(schema=None)


def _head(header, kept, number):
    header.id = number
    header.type_code = CREDIT_NOTE if "corrects" in kept else INVOICE
    header.issue_date_time = _day(kept["issued_on"])
    words = (kept.get("reason", ""), f"For the work on {kept['instrument']['name']}.", kept["terms"])
    for text in filter(None, words):
        header.notes.add(IncludedNote(content=_said(text)))


def _line(kept, line, net):
    item = LineItem()
    item.document.line_id = str(line["position"])
    item.product.name = _said(line["text"])
    item.agreement.net.amount = net.price
    item.delivery.billed_quantity = (Decimal(line["quantity"]), PIECE)
    tax = item.settlement.trade_tax
    tax.type_code = "VAT"
    tax.category_code, tax.rate_applicable_percent = category_of(kept, line["tax_rate"]), Decimal(line["tax_rate"])
    item.settlement.monetary_summation.total_amount = net.amount
    return item


def category_of(kept, rate):
    """At nought per cent: as it is treated, or exempt where the shop says why, otherwise zero rated."""
    if kept.get("tax_treatment"):
        return kept["tax_treatment"]
    if Decimal(rate):
        return STANDARD
    return EXEMPT if kept.get("exempt_reason") else ZERO_RATED


def _parties(agreement, kept):
    seller, buyer = kept["seller"], kept["buyer"]
    if buyer["buyer_reference"]:
        agreement.buyer_reference = _said(buyer["buyer_reference"])
    _party(agreement.seller, seller["name"], seller)
    agreement.seller.id = _said(seller["tax_number"])  # BT-29, without which BR-CO-26 knows nobody
    agreement.seller.contact.person_name = _said(seller["name"])
    agreement.seller.contact.telephone.number = seller["phone"]
    agreement.seller.contact.email.address = seller["email"]
    agreement.seller.tax_registrations.add(_registration(seller["tax_number"]))
    _party(
        agreement.buyer, buyer["company"] or buyer["name"], buyer | {"country": buyer["country"] or seller["country"]}
    )
    if buyer["company"]:
        agreement.buyer.contact.person_name = _said(buyer["name"])
    if buyer["vat_number"]:
        agreement.buyer.tax_registrations.add(TaxRegistration(id=("VA", _bare(buyer["vat_number"]))))
    agreement.seller_order.issuer_assigned_id = kept["order"]["number"]


def _party(party, name, where):
    """Street and house are free text here: their lines are kept as lines, at most three, which the standard allows."""
    party.name = _said(name)
    lines = [_said(line) for line in where["address"].splitlines() if line.strip()]
    lines = [*lines[:2], ", ".join(lines[2:])]
    for place, line in zip(("line_one", "line_two", "line_three"), lines, strict=False):
        if line:
            setattr(party.address, place, line)
    if where.get("town"):
        party.address.city_name = _said(where["town"])  # BT-52
    if where.get("postcode"):
        party.address.postcode = _said(where["postcode"])  # BT-53
    party.address.country_id = where["country"]


def _registration(number):
    """A VAT number (BT-31) where it is one, with its country's letters; otherwise a local tax number (BT-32)."""
    kind = "VA" if is_valid(valid_vat_number, number) else "FC"
    return TaxRegistration(id=(kind, _bare(number) if kind == "VA" else _said(number)))


def _delivery(delivery, kept):
    """BT-72; goods that go abroad say where they went, too (BR-IC-12)."""
    delivery.event.occurrence = _day(kept["supplied_on"])
    if kept.get("tax_treatment") == Treatment.GOODS:
        buyer = kept["buyer"]
        _party(delivery.ship_to, buyer["company"] or buyer["name"], buyer)


def _settlement(settlement, kept, number, rates):
    settlement.payment_reference = number
    settlement.currency_code = kept["currency"]
    if "corrects" not in kept and is_valid(valid_iban, kept["seller"]["iban"]):
        settlement.payment_means.add(_transfer(kept["seller"]))
    for one in rates:
        settlement.trade_tax.add(_tax(kept, one))
        if one.discount:
            settlement.allowance_charge.add(_discount(kept, one))
    settlement.terms.add(_terms(kept))
    _sums(settlement.monetary_summation, kept, rates)
    if "corrects" in kept:
        settlement.invoice_referenced_document.issuer_assigned_id = kept["corrects"]["number"]
        settlement.invoice_referenced_document.issue_date_time = _day(kept["corrects"]["issued_on"])


def _transfer(seller):
    means = PaymentMeans(type_code=TRANSFER)
    means.payee_account.iban = plain_iban(seller["iban"])
    means.payee_account.account_name = _said(seller["name"])
    if is_valid(valid_bic, seller["bic"]):
        means.payee_institution.bic = _bare(seller["bic"])
    return means


def _tax(kept, one):
    tax = ApplicableTradeTax()
    tax.calculated_amount, tax.basis_amount, tax.type_code = one.tax, one.base, "VAT"
    category = category_of(kept, one.rate)
    tax.category_code, tax.rate_applicable_percent = category, one.rate
    if category in (EXEMPT, *CODES):
        tax.exemption_reason = _said(kept["exempt_reason"])
    if category in CODES:
        tax.exemption_reason_code = CODES[category]
    return tax


def _discount(kept, one):
    percent = Decimal(kept["discount_percent"])
    allowance = TradeAllowanceCharge(actual_amount=one.discount, reason_code=DISCOUNT)
    allowance.indicator = False
    allowance.reason = _said(kept["discount_reason"])
    if (one.lines * percent / 100).quantize(CENT) == one.discount:  # not said where tax taken out moved it by a cent
        allowance.calculation_percent, allowance.basis_amount = percent, one.lines
    allowance.trade_tax.add(
        CategoryTradeTax(type_code="VAT", category_code=category_of(kept, one.rate), rate_applicable_percent=one.rate)
    )
    return allowance


def _terms(kept):
    if "corrects" in kept:
        number = kept["corrects"]["number"]
        return PaymentTerms(description=f"Takes back the whole of invoice {number}; nothing is to be paid.")
    terms = PaymentTerms(due=_day(kept["due_on"]))
    terms.description = f"To be paid within {kept['payment_days']} days."
    return terms


def _sums(sums, kept, rates):
    total = Decimal(kept["total"])
    paid = Decimal(0) if "corrects" in kept else Decimal(kept["paid"])
    sums.line_total = sum(one.lines for one in rates)
    sums.charge_total, sums.allowance_total = Decimal("0.00"), sum(one.discount for one in rates)
    sums.tax_basis_total, sums.tax_total = (Decimal(kept["net"]), None), (Decimal(kept["tax"]), kept["currency"])
    sums.grand_total = (total, None)
    if paid:
        sums.prepaid_total = paid
    sums.due_amount = total - paid


def _day(text):
    """The library reads a moment; only its day is written."""
    return datetime.combine(date.fromisoformat(text), datetime.min.time())


def _bare(number):
    return "".join(letter for letter in number.upper() if letter.isalnum())


def _said(text):
    """What people typed as XML 1.0, 2.2 may hold it: no control characters, and not the two that are no letters."""
    return printable(text).translate({0xFFFE: " ", 0xFFFF: " "}).strip()
