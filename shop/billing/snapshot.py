"""What an issued paper keeps: everything that stands on it, as it stood. Amounts and rates are strings of Decimals.

{
  "seller": {"name", "address", "country", "phone", "email", "website", "tax_number", "iban", "bic"},
  "buyer": {"name", "company", "address", "postcode", "town", "country", "vat_number", "buyer_reference"},
  "order": {"number", "booked_on"},  "instrument": {"name", "serial", "colour"},
  "lines": [{"position", "kind", "text", "quantity", "price", "tax_rate", "amount"}],
  "rates": [{"rate", "lines", "discount", "base", "tax"}],
  "sum", "discount", "discount_percent", "discount_reason", "net", "tax", "total",
  "tax_name", "prices_include_tax", "currency", "exempt_reason",  (why a rate is 0 %; may be empty)
  "tax_treatment",  (see billing.treatments; empty as a rule)
  "supplied_on", "issued_on", "due_on", "payment_days", "terms",
  "received": [{"on", "how", "amount", "is_deposit"}],  "paid", "due",
  "corrects": {"number", "issued_on"}, "reason"          (credit notes only)
}
"""

from django.utils import timezone

from shop.billing.letterhead import buyer_of, seller_of
from shop.billing.treatments import REASONS

LINE = ("kind", "text", "quantity", "price", "tax_rate", "amount")
RATE = ("rate", "lines", "discount", "base", "tax")


def of_invoice(order, workshop, account, *, issued_on, due_on):
    """The snapshot of an invoice over the agreed lines of `account`."""
    return _parties(order, workshop) | of_amounts(workshop, account, issued_on=issued_on, due_on=due_on)


def of_amounts(workshop, account, *, issued_on, due_on):
    """All of an invoice's snapshot but who and what it is about."""
    agreed, draft = account.agreed, account.draft
    has_nought = any(not one.rate for one in agreed.rates)
    return {
        **_amounts(agreed),
        "discount_percent": _text(draft.discount_percent if draft else 0),
        "discount_reason": draft.discount_reason if draft else "",
        "tax_name": workshop.tax_name,
        "prices_include_tax": workshop.prices_include_tax and not account.treatment,
        "currency": workshop.currency,
        "tax_treatment": account.treatment,
        "exempt_reason": REASONS.get(account.treatment) or (workshop.exempt_reason if has_nought else ""),
        "supplied_on": issued_on.isoformat(),
        "issued_on": issued_on.isoformat(),
        "due_on": due_on.isoformat(),
        "payment_days": workshop.payment_days,
        "terms": workshop.invoice_terms,
        "received": [_received(one) for one in account.payments if not one.is_undone and not one.undoes_id],
        "paid": _text(account.received),
        "due": _text(agreed.total - account.received),
    }


def of_credit_note(invoice, *, reason, issued_on, received):
    """The snapshot of a credit note: the invoice's, corrected whole. `received` goes back, or on to a new invoice."""
    own = ("received", "paid", "due", "due_on")
    kept = {name: value for name, value in invoice.snapshot.items() if name not in own}
    return {
        **kept,
        "issued_on": issued_on.isoformat(),
        "corrects": {"number": invoice.number, "issued_on": invoice.issued_on.isoformat()},
        "reason": reason,
        "paid": _text(received),
    }


def _parties(order, workshop):
    instrument = order.instrument
    return {
        "seller": seller_of(workshop),
        "buyer": buyer_of(order.customer),
        "order": {"number": order.number, "booked_on": timezone.localtime(order.booked_at).date().isoformat()},
        "instrument": {"name": str(instrument), "serial": instrument.serial, "colour": instrument.colour},
    }


def _amounts(found):
    return {
        "lines": [
            {"position": n} | {name: _text(getattr(line, name)) for name in LINE}
            for n, line in enumerate(found.lines, start=1)
        ],
        "rates": [{name: _text(getattr(one, name)) for name in RATE} for one in found.rates],
        **{name: _text(getattr(found, name)) for name in ("sum", "discount", "net", "tax", "total")},
    }


def _received(payment):
    return {
        "on": payment.received_on.isoformat(),
        "how": payment.get_kind_display(),
        "amount": _text(payment.amount),
        "is_deposit": payment.is_deposit,
    }


def _text(value):
    return str(value)
