"""Issuing: the number is taken, and everything on the invoice frozen, in one transaction."""

from datetime import timedelta
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from shop.billing import snapshot, treatments
from shop.billing.account import account_of
from shop.billing.models import InvoiceLine
from shop.billing.services.common import BILLABLE, MoneyRefused, locked, settle
from shop.billing.services.drafting import draft_of
from shop.lib import money
from shop.lib.dates import today
from shop.orders import services as orders
from shop.orders.states import State
from shop.staff.numbers import next_counted

MOST = Decimal(999_999_999)


@transaction.atomic
def issue(order, *, by):
    """Issue the order's invoice and return it; the standing one when it has been issued already.

    Raises MoneyRefused while the work is not done, or when nothing is agreed that could be billed.
    """
    held, workshop = locked(order)
    account = account_of(held, workshop)
    if account.standing:
        return account.standing
    _guard(held, account, workshop)
    draft = draft_of(held, workshop, by=by)
    issued_on = today()
    due_on = issued_on + timedelta(days=workshop.payment_days)
    _freeze(draft, held, workshop, account, by=by, issued_on=issued_on, due_on=due_on)
    orders.fix_lines(held, f"invoice {draft.number}")
    settle(held)
    text = f"Invoice {draft.number} issued over {money.shown(draft.total, draft.currency)}."
    orders.note(held, by=by, what="invoice_issued", text=text, invoice=draft.pk)
    order.refresh_from_db(fields=["lines_fixed_by"])
    return draft


def _guard(held, account, workshop):
    if held.state not in BILLABLE:
        raise MoneyRefused(f"The order is {State(held.state).label}: its invoice is issued once the work is checked.")
    if not account.agreed.lines:
        raise MoneyRefused("Nothing is agreed that could be billed.")
    if account.agreed.total > MOST:
        raise MoneyRefused("The total is too large for one invoice.")
    if account.treatment and (refusal := treatments.why_not(held.customer, workshop)):
        raise MoneyRefused(f"It is to be billed without tax, but something is missing. {refusal}")


def _freeze(draft, held, workshop, account, *, by, issued_on, due_on):
    """Turn the draft into the issued invoice. Its lines come first: afterwards the database refuses changes."""
    InvoiceLine.objects.bulk_create(
        InvoiceLine(
            invoice=draft, position=position, kind=line.kind, text=line.text, quantity=line.quantity,
            price=line.price, tax_rate=line.tax_rate, amount=line.amount,
        )
        for position, line in enumerate(account.agreed.lines, start=1)
    )  # fmt: skip
    draft.customer = held.customer
    draft.currency = workshop.currency
    draft.prices_include_tax = workshop.prices_include_tax and not account.treatment
    draft.net, draft.tax, draft.total = account.agreed.net, account.agreed.tax, account.agreed.total
    draft.issued_at, draft.issued_by, draft.issued_on, draft.due_on = timezone.now(), by, issued_on, due_on
    draft.branch = held.branch
    count = next_counted(f"invoices-{issued_on:%Y}", held.branch)
    draft.number = f"{workshop.invoice_prefix}{issued_on:%y}-{count}"
    draft.snapshot = snapshot.of_invoice(held, workshop, account, issued_on=issued_on, due_on=due_on)
    draft.save(
        update_fields=[
            "branch", "customer", "currency", "prices_include_tax", "net", "tax", "total", "issued_at", "issued_by",
            "issued_on", "due_on", "number", "snapshot",
        ]
    )  # fmt: skip
