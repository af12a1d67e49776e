"""Invoices and credit notes as PDFs. What was issued is printed from its snapshot alone."""

from datetime import date, timedelta
from decimal import Decimal

from shop.billing import letterhead, snapshot
from shop.billing.account import account_of
from shop.billing.einvoice.document import xml_of
from shop.billing.einvoice.missing import missing_of
from shop.billing.einvoice.xmp import DESCRIPTIONS, FILE_NAME
from shop.billing.epc import payment_code
from shop.lib.dates import today
from shop.lib.pdf import Attached
from shop.lib.stationery import paper_pdf
from shop.staff.branching import place_of

ZERO = Decimal("0.00")
DATES = ("issued_on", "due_on", "supplied_on")


def invoice_pdf(invoice, workshop):
    """The PDF of an issued invoice or credit note, in bytes.

    With all that EN 16931 asks for it is a hybrid: PDF/A-3a, tagged for screen readers, that carries the same invoice
    as XML. Otherwise it is the paper alone, as PDF/UA.
    """
    context = context_of(invoice.snapshot, number=invoice.number)
    return paper_pdf("invoice", context, size=workshop.paper, **_for_machines(invoice))


def _for_machines(invoice):
    if missing_of(invoice.snapshot["seller"]):
        return {}
    xml = xml_of(invoice.snapshot, number=invoice.number)
    carried = Attached(FILE_NAME, xml, description="The invoice for machines, EN 16931", relationship="Alternative")
    return {"variant": "pdf/a-3a", "attachments": [carried], "described": DESCRIPTIONS}


def draft_pdf(order, workshop):
    """What the invoice would look like now, marked as a draft across the page."""
    shown_on = today()
    place, account = place_of(order, workshop), account_of(order, workshop)
    due_on = shown_on + timedelta(days=workshop.payment_days)
    kept = snapshot.of_invoice(order, place, account, issued_on=shown_on, due_on=due_on)
    return paper_pdf("invoice", context_of(kept, number=""), size=workshop.paper)


def context_of(kept, *, number):
    """What the template prints, from a snapshot. Without a number it is a draft."""
    is_credit_note = "corrects" in kept
    due = Decimal(kept.get("due", "0"))
    return {
        **kept,
        **{name: date.fromisoformat(kept[name]) for name in DATES if name in kept},
        "number": number,
        "is_draft": not number,
        "is_credit_note": is_credit_note,
        "kind": "Credit note" if is_credit_note else "Invoice",
        "seller": letterhead.shown(kept["seller"], kept["tax_name"]),
        "buyer": letterhead.addressed(kept["buyer"]),
        "received": [one | {"on": date.fromisoformat(one["on"])} for one in kept.get("received", [])],
        "has_discount": Decimal(kept["discount"]) != ZERO,
        "has_rates": len(kept["rates"]) > 1,
        "due": due,
        "to_give_back": -due if due < ZERO else None,
        "is_paid": due <= ZERO and not is_credit_note,
        "paid": Decimal(kept["paid"]),
        "code": payment_code(kept, number) if number and not is_credit_note else None,
        **_corrected(kept),
    }


def _corrected(kept):
    if "corrects" not in kept:
        return {}
    return {"corrects": kept["corrects"] | {"issued_on": date.fromisoformat(kept["corrects"]["issued_on"])}}
