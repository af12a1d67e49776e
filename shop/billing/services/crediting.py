"""The credit note: the only way to correct an issued invoice, and always whole."""

from django.db import transaction
from django.utils import timezone

from shop.billing import snapshot
from shop.billing.models import Invoice, InvoiceKind, InvoiceLine
from shop.billing.services.common import MoneyRefused, locked, settle
from shop.lib import money
from shop.lib.dates import today
from shop.orders import services as orders
from shop.staff.numbers import next_counted


@transaction.atomic
def credit(invoice, *, reason, by):
    """Correct the whole of `invoice` and return the credit note; the order's lines are free again.

    Raises MoneyRefused without a reason, for a draft, for a credit note, and for one that is credited already.
    """
    reason = " ".join(reason.split())[:300]
    held, _ = locked(invoice.order)
    invoice = Invoice.objects.select_related("credit_note", "branch").get(pk=invoice.pk)
    _guard(invoice, reason)
    issued_on = today()
    received = held.payments.received()
    note = Invoice.objects.create(
        kind=InvoiceKind.CREDIT_NOTE, corrects=invoice, reason=reason, order=held, branch=invoice.branch,
        customer=invoice.customer,
        turn=invoice.turn, tax_treatment=invoice.tax_treatment, currency=invoice.currency,
        prices_include_tax=invoice.prices_include_tax,
        created_at=timezone.now(), created_by=by, issued_at=timezone.now(), issued_by=by, issued_on=issued_on,
        net=-invoice.net, tax=-invoice.tax, total=-invoice.total,
        number=f"C{issued_on:%y}-{next_counted(f'credit-notes-{issued_on:%Y}', invoice.branch)}",
        snapshot=snapshot.of_credit_note(invoice, reason=reason, issued_on=issued_on, received=received),
    )  # fmt: skip
    InvoiceLine.objects.bulk_create(_turned(note, line) for line in invoice.lines.all())
    orders.fix_lines(held, "")
    settle(held)
    over = money.shown(invoice.total, note.currency)
    text = f"Credit note {note.number} corrects invoice {invoice.number} over {over}: {reason}"
    orders.note(held, by=by, what="credited", text=text, invoice=note.pk)
    return note


def _guard(invoice, reason):
    if not invoice.is_issued:
        raise MoneyRefused("A draft needs no credit note: change the order's lines.")
    if invoice.is_credit_note:
        raise MoneyRefused("A credit note is not credited; issue the invoice anew.")
    if invoice.is_credited:
        raise MoneyRefused(f"Credit note {invoice.credit_note.number} has corrected this invoice already.")
    if not reason:
        raise MoneyRefused("Say why the invoice is corrected: it stands on the credit note.", "reason")


def _turned(note, line):
    return InvoiceLine(
        invoice=note, position=line.position, kind=line.kind, text=line.text, quantity=line.quantity,
        price=line.price, tax_rate=line.tax_rate, amount=-line.amount,
    )  # fmt: skip
